import { KINDS } from '../../../trade/record/kinds.ts'

/** What a kind of record is called. */
export function kindWords(kind: string): string {
  return KINDS[kind]?.words.toLowerCase() ?? kind.replaceAll('_', ' ')
}
