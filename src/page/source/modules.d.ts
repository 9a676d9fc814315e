declare module "heatside:engine" {
  /** What emscripten makes of the engine. */
  export interface Engine {
    _heatside_answer(request: number): number;
    _malloc(bytes: number): number;
    _free(place: number): void;
    UTF8ToString(place: number): string;
    stringToUTF8(text: string, place: number, room: number): void;
    lengthBytesUTF8(text: string): number;
  }
  export default function start(options: {
    wasmBinary: ArrayBuffer;
    print(words: string): void;
    printErr(words: string): void;
  }): Promise<Engine>;
}

declare module "heatside:demo" {
  const text: string;
  export default text;
}
