// Sentences of the bay.
import type english from '../../../../server/witnessmark/trade/data/sentences/en.json'
import { sayer } from '../../trade/ground/sentences.ts'

export const say = sayer(
  import.meta.glob<(typeof english)['bay']>('../../../../server/witnessmark/trade/data/sentences/*.json', { eager: true, import: 'bay' }),
)
