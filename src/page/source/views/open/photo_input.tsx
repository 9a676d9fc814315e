import type { JSX } from "preact";

interface PhotoInputProps {
  onFiles: (files: File[]) => unknown;
  disabled?: boolean;
  /** What it is a photo of, spoken. */
  of?: string;
}

function OneInput({ words, camera, onFiles, disabled, of }: PhotoInputProps & { words: string; camera: boolean }): JSX.Element {
  return (
    <label class={`big open-photo-button${disabled ? " open-photo-off" : ""}`}>
      {words}
      {of && <span class="spoken"> of {of}</span>}
      <input
        class="spoken"
        type="file"
        accept="image/*"
        capture={camera ? "environment" : undefined}
        multiple={!camera}
        disabled={disabled}
        onChange={(event) => {
          const files = [...(event.currentTarget.files ?? [])];
          event.currentTarget.value = "";
          if (files.length > 0) void onFiles(files);
        }}
      />
    </label>
  );
}

/** A photo from the camera, or pictures that are there already. */
export function PhotoInput(props: PhotoInputProps): JSX.Element {
  return (
    <div class="row">
      <OneInput {...props} words="Take a photo" camera />
      <OneInput {...props} words="Choose pictures" camera={false} />
    </div>
  );
}
