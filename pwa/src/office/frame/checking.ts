// What is wrong with what is typed: the server is asked once the typing pauses, and the answer to the latest question counts.

import type { FieldFault } from '../../trade/ground/errors.ts'
import { say } from './say.ts'

export interface Answer {
  /** What was asked. */
  question: string
  faults: FieldFault[]
  /** Why there is no answer; "" when there is one. The faults are then those of the last answer. */
  error: string
}

export interface Checking {
  /** Asks about this once nothing else was typed for a while; about the very first at once. */
  typed: (question: string) => void
  /** Asks about what was typed last without waiting; none when nobody answers, for saving checks again. */
  now: () => Promise<FieldFault[]>
  stop: () => void
}

export const PAUSE_MS = 250

/** `ask` answers with faults or throws an Error with a sentence for the reader; `answered` hears what counts. */
export function checking(ask: (question: string) => Promise<FieldFault[]>, answered: (answer: Answer) => void): Checking {
  let [latest, last]: [string, FieldFault[]] = ['', []]
  let timer: ReturnType<typeof setTimeout> | undefined
  const now = async (): Promise<FieldFault[]> => {
    clearTimeout(timer)
    const question = latest
    const counts = () => question === latest
    try {
      const faults = await ask(question)
      if (counts()) answered({ question, faults: (last = faults), error: '' })
      return faults
    } catch (reason) {
      const error = say('frame.cannot_check', { reason: reason instanceof Error ? reason.message : String(reason) })
      if (counts()) answered({ question, faults: last, error })
      return []
    }
  }
  return {
    typed: (question) => {
      const first = latest === ''
      latest = question
      clearTimeout(timer)
      timer = setTimeout(() => void now(), first ? 0 : PAUSE_MS)
    },
    now,
    stop: () => clearTimeout(timer),
  }
}
