// Sentences of the office.
import type english from '../../../../server/witnessmark/trade/data/sentences/en.json'
import { sayer } from '../../trade/ground/sentences.ts'

export const say = sayer(
  import.meta.glob<(typeof english)['office']>('../../../../server/witnessmark/trade/data/sentences/*.json', { eager: true, import: 'office' }),
)

/** The key of a sentence, for tables that name one. */
export type SentenceKey = Parameters<typeof say>[0]
