/** Photos of findings: scaled down, without the data that a camera adds, kept as bytes. */

import { signal } from "@preact/signals";
import { useEffect, useState } from "preact/hooks";
import { type KeptPhoto, got, kept, photosOfJob, read } from "./database";

export type Photo = KeptPhoto;

/** Grows with every photo that is kept or taken away, so that views show it. */
export const photoCount = signal(0);

const longest = 1600; // pixels of the longer side
const quality = 0.8;

export async function sha256Of(bytes: ArrayBuffer): Promise<string> {
  const digest = await crypto.subtle.digest("SHA-256", bytes);
  return [...new Uint8Array(digest)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

// Drawing it anew leaves out where and by whom it was taken.
async function scaled(file: Blob): Promise<ArrayBuffer> {
  let picture: ImageBitmap;
  try {
    picture = await createImageBitmap(file, { imageOrientation: "from-image" });
  } catch {
    throw new Error("This file is no picture that this browser can read. JPEG, PNG and WebP can be read everywhere.");
  }
  const scale = Math.min(1, longest / Math.max(picture.width, picture.height));
  const canvas = document.createElement("canvas");
  canvas.width = Math.max(1, Math.round(picture.width * scale));
  canvas.height = Math.max(1, Math.round(picture.height * scale));
  const pen = canvas.getContext("2d");
  if (!pen) throw new Error("This browser gives no room to scale a picture.");
  pen.fillStyle = "#fff";
  pen.fillRect(0, 0, canvas.width, canvas.height);
  pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
  picture.close();
  const blob = await new Promise<Blob | null>((resolve) => canvas.toBlob(resolve, "image/jpeg", quality));
  if (!blob) throw new Error("This browser could not write the picture as JPEG.");
  return blob.arrayBuffer();
}

export async function keepPhoto(job: string, key: string, file: Blob): Promise<Photo> {
  const bytes = await scaled(file);
  return keepBytes(job, key, bytes);
}

/** Bytes that are a small JPEG already: those of an imported job. */
export async function keepBytes(job: string, key: string, bytes: ArrayBuffer): Promise<Photo> {
  const photo = { id: crypto.randomUUID(), job, key, at: new Date().toISOString(), sha256: await sha256Of(bytes), bytes };
  await kept(["photos"], async (stores) => void (await got(stores("photos").add(photo))));
  photoCount.value++;
  return photo;
}

export async function removePhoto(id: string): Promise<void> {
  await kept(["photos"], async (stores) => void (await got(stores("photos").delete(id))));
  photoCount.value++;
}

export async function photosBy(job: string, key: string): Promise<Photo[]> {
  const all = await photosOfJob(job);
  return all.filter((photo) => photo.key === key).sort((a, b) => a.at.localeCompare(b.at));
}

export const photoById = (id: string): Promise<Photo | undefined> => read("photos", (store) => store.get(id));

/** The photos of a finding with addresses to show them; the addresses end with the view. */
export function usePhotos(job: string | undefined, key: string): { photo: Photo; address: string }[] {
  const [shown, setShown] = useState<{ photo: Photo; address: string }[]>([]);
  const count = photoCount.value;
  useEffect(() => {
    let addresses: string[] = [];
    let current = true;
    if (job) {
      void photosBy(job, key).then((photos) => {
        if (!current) return;
        const list = photos.map((photo) => ({
          photo,
          address: URL.createObjectURL(new Blob([photo.bytes], { type: "image/jpeg" })),
        }));
        addresses = list.map((one) => one.address);
        setShown(list);
      });
    }
    return () => {
      current = false;
      addresses.forEach((address) => URL.revokeObjectURL(address));
    };
  }, [job, key, count]);
  return shown;
}
