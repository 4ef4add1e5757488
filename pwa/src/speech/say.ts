// Sentences of speech, from the phone's section of the catalogue; this room may look into trade alone.
import type english from '../../../server/witnessmark/trade/data/sentences/en.json'
import { sayer } from '../trade/ground/sentences.ts'

export const say = sayer(
  import.meta.glob<(typeof english)['phone']>('../../../server/witnessmark/trade/data/sentences/*.json', { eager: true, import: 'phone' }),
)
