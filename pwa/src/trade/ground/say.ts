// Sentences of the trade.
import type english from '../../../../server/witnessmark/trade/data/sentences/en.json'
import { sayer } from './sentences.ts'

export const say = sayer(
  import.meta.glob<(typeof english)['trade']>('../../../../server/witnessmark/trade/data/sentences/*.json', { eager: true, import: 'trade' }),
)
