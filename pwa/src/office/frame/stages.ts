// Stages in the words of the workshop, in the order of the work.

import { STAGES, stageWords as tradeWords } from '../../trade/engine/stages.ts'
import { say } from './say.ts'

export { STAGES }

export function stageWords(code: string | null | undefined): string {
  return code ? tradeWords(code) : say('record.not_begun')
}
