// Hears beside the page: opens its programs once, then answers one question after another.
import { Closed } from './decoder.ts'
import { openDenoiser } from './denoise.ts'
import { kept, keptList } from './kept.ts'
import { language } from './language.ts'
import { type Ears, ready, recognise } from './recognise.ts'
import type { WorkerReply, WorkerRequest } from './shapes.ts'
import { say } from './say.ts'

interface Beside {
  location: Location
  onmessage: ((event: MessageEvent<WorkerRequest>) => void) | null
  postMessage(reply: WorkerReply): void
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

async function answer(request: WorkerRequest): Promise<WorkerReply> {
  const began = performance.now()
  const { id, subject } = request
  const opened = await (ears ??= openEars())
  if (!('pcm' in request)) {
    await ready(opened, subject)
    return { id, ready: true }
  }
  const heard = await recognise(opened, request.pcm, request.rate, subject)
  return { id, heard: { ...heard, ms: Math.round(performance.now() - began) } }
}

page.onmessage = ({ data }) => {
  turn = turn
    .then(() => answer(data))
    .catch((fault: unknown) => ({ id: data.id, fault: reason(fault) }))
    .then((reply) => page.postMessage(reply))
}

/** In a sentence. Ours are sentences already; the messages of other programs are put into one. */
function reason(fault: unknown): string {
  const message = fault instanceof Error ? fault.message : String(fault)
  if (fault instanceof RangeError || /alloc|memory|OOM/i.test(message)) return say('speech.no_memory')
  if (fault instanceof WebAssembly.CompileError || fault instanceof WebAssembly.LinkError) return say('speech.old_browser')
  return message.endsWith('.') ? message : say('speech.broke_off', { why: message })
}
