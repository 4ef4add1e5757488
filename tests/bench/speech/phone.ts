// The clips of the benchmark through the phone's own recogniser, in Node: the code of the worker without the worker.
// Arguments: the phone app's folder, and a list of {raw, subject}. A line of JSON for each: {text, why, ms}.
import { readFileSync } from 'node:fs'
import { Closed } from '../../../pwa/src/speech/decoder.ts'
import { openDenoiser } from '../../../pwa/src/speech/denoise.ts'
import { language } from '../../../pwa/src/speech/language.ts'
import { recognise } from '../../../pwa/src/speech/recognise.ts'

const RATE = 16_000
const [app, list] = process.argv.slice(2)
const denoiser = await openDenoiser(readFileSync(`${app}/node_modules/@jitsi/rnnoise-wasm/dist/rnnoise.wasm`))
const closed = await Closed.open({ modelBase: `${app}/node_modules/soundswallower/model/` })
const ears = { closed, denoiser, language, by: 'benchmark' }
for (const { raw, subject } of JSON.parse(readFileSync(list!, 'utf8'))) {
  const bytes = readFileSync(raw)
  const pcm = Float32Array.from(new Int16Array(bytes.buffer, bytes.byteOffset, bytes.length >> 1), (x) => x / 32768)
  const begun = process.cpuUsage().user
  const { text, why } = await recognise(ears, pcm, RATE, subject)
  console.log(JSON.stringify({ text, why, ms: (process.cpuUsage().user - begun) / 1000 }))
}
