// Sentences of what the phone does out of sight: capture, store, sync and speech.
import type english from '../../../server/witnessmark/trade/data/sentences/en.json'
import { sayer } from '../trade/ground/sentences.ts'

export const say = sayer(
  import.meta.glob<(typeof english)['phone']>('../../../server/witnessmark/trade/data/sentences/*.json', { eager: true, import: 'phone' }),
)
