// Sentences of the shared drawings and controls.
import type english from '../../../../server/witnessmark/trade/data/sentences/en.json'
import { sayer } from '../../trade/ground/sentences.ts'

export const say = sayer(
  import.meta.glob<(typeof english)['parts']>('../../../../server/witnessmark/trade/data/sentences/*.json', { eager: true, import: 'parts' }),
)
