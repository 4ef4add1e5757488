// What is said of a run: what is missing before it may be closed, and its pace. The twin of trade/tightening/values_given.py.

import type { DoneRow } from './rows.ts'
import { say } from '../ground/say.ts'
import { listed } from '../ground/sentences.ts'
import type { TighteningStage } from './stages.ts'
import { STILL_TO_BE } from './values.ts'

export interface Pace {
  stage: string
  fasteners: number
  seconds: number
  words: string
}

/** The sentence on the fasteners that a stage still asks for, "" for none. */
export function fastenersMissing(stage: TighteningStage, labels: string[]): string {
  if (!labels.length) return ''
  const about = { stage: stage.words, fasteners: listed(labels), count: labels.length }
  return say(STILL_TO_BE[stage.method], about)
}

/**
 * The sentence on the second person, "" when none is asked for or one was there. `witness` is who witnessed it after the
 * last fastener, `hands` are those who tightened.
 */
export function witnessMissing(twoPeople: boolean, witness: string | null, hands: string[]): string {
  if (!twoPeople || (witness !== null && !hands.includes(witness))) return ''
  if (witness === null) return say('tightening.witness_missing')
  return say('tightening.witness_tightened')
}

/** How long a stage took from its first to its last fastener, by the times as claimed: a fact, not a judgement. */
export function pace(code: string, done: DoneRow[]): Pace | null {
  if (!done.length) return null
  const count = done.length
  const seconds = Math.floor((Date.parse(done[count - 1]!.at) - Date.parse(done[0]!.at)) / 1000)
  let words
  if (count === 1) words = say('tightening.pace.only', { count })
  else if (seconds < 0) words = say('tightening.pace.backwards', { count })
  else words = say('tightening.pace.took', { count, time: duration(seconds) })
  return { stage: code, fasteners: count, seconds, words }
}

/** "6 seconds", "4 minutes 10 seconds", "2 hours 5 minutes"; what is left over is dropped. */
function duration(seconds: number): string {
  const rest = seconds % 60
  if (seconds < 60) return say('tightening.duration.seconds', { count: seconds })
  const whole = Math.floor(seconds / 60) % 60
  const minutes = say('tightening.duration.minutes', { count: whole })
  if (seconds < 3600) {
    return rest ? both(minutes, say('tightening.duration.seconds', { count: rest })) : minutes
  }
  const hours = say('tightening.duration.hours', { count: Math.floor(seconds / 3600) })
  return whole ? both(hours, minutes) : hours
}

const both = (large: string, small: string) => say('tightening.duration.both', { large, small })
