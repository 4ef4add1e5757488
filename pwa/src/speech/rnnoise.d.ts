declare module '@jitsi/rnnoise-wasm/dist/rnnoise.js' {
  export interface RnnoiseModule {
    HEAPF32: Float32Array
    _malloc(bytes: number): number
    _free(at: number): void
    _rnnoise_create(): number
    _rnnoise_destroy(state: number): void
    /** Works in place on one frame of 480 samples; returns how likely it is speech. */
    _rnnoise_process_frame(state: number, out: number, into: number): number
  }
  export interface Options {
    instantiateWasm(imports: WebAssembly.Imports, done: (instance: WebAssembly.Instance) => void): object
  }
  export default function create(options: Options): Promise<RnnoiseModule>
}
