// Hears beside the page: opens its programs once, then answers one question after another.
import { Closed } from './decoder.ts'
import { openDenoiser } from './denoise.ts'
import { kept, keptList } from './kept.ts'
import { language } from './language.ts'
import { type Ears, ready, recognise } from './recognise.ts'
import type { Asked, Told } from './shapes.ts'

interface Beside {
  location: Location
  onmessage: ((event: MessageEvent<Asked>) => void) | null
  postMessage(told: Told): void
}

declare const __BY__: string

const page = self as unknown as Beside
const folder = new URL('./', page.location.href).href

let ears: Promise<Ears> | undefined
/** One after the other: the decoder is one, and has one grammar at a time. */
let turn: Promise<unknown> = Promise.resolve()

async function openEars(): Promise<Ears> {
  const program = await (await kept('rnnoise.wasm')).arrayBuffer()
  const denoiser = await openDenoiser(program)
  const closed = await Closed.open({ modelBase: folder, locateFile: (file: string) => folder + file })
  const model = (await keptList()).files.find((file) => file.name === 'en-us/mdef')?.sha256 ?? ''
  return { closed, denoiser, language, by: `${__BY__}, model ${model.slice(0, 12)}` }
}

async function answer(asked: Asked): Promise<Told> {
  const began = performance.now()
  const { id, subject } = asked
  const with_ = await (ears ??= openEars())
  if (!('pcm' in asked)) {
    await ready(with_, subject)
    return { id, ready: true }
  }
  const heard = await recognise(with_, asked.pcm, asked.rate, subject)
  return { id, heard: { ...heard, ms: Math.round(performance.now() - began) } }
}

page.onmessage = ({ data }) => {
  turn = turn
    .then(() => answer(data))
    .catch((fault: unknown) => ({ id: data.id, fault: reason(fault) }))
    .then((told) => page.postMessage(told))
}

/** In a sentence. Ours are sentences already; what their programs say is put into one. */
function reason(fault: unknown): string {
  const said = fault instanceof Error ? fault.message : String(fault)
  if (fault instanceof RangeError || /alloc|memory|OOM/i.test(said)) return 'This phone has too little memory free for speech. Close other apps, then say it again.'
  if (fault instanceof WebAssembly.CompileError || fault instanceof WebAssembly.LinkError) return 'This browser cannot run the speech parts. Bring it up to date.'
  return said.endsWith('.') ? said : `Speech broke off on this phone (${said}). Say it again.`
}
