// Stages in the words of the workshop, in the order of the work.

import { stageWords as said, STAGES } from '../../trade/engine/stages.ts'

export { STAGES }

export function stageWords(code: string | null | undefined): string {
  return code ? said(code) : 'not begun'
}
