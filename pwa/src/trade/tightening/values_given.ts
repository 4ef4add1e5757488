// What is said of a run: what is missing before it may be closed, and its pace. The twin of trade/tightening/values_given.py.

import type { DoneRow } from './rows.ts'
import { fasteners, type TighteningStage } from './stages.ts'
import { DONE } from './values.ts'

export interface Pace {
  stage: string
  fasteners: number
  seconds: number
  words: string
}

/** The sentence on the fasteners that a stage still asks for, "" for none. */
export function fastenersMissing(stage: TighteningStage, labels: string[]): string {
  if (!labels.length) return ''
  const verb = labels.length === 1 ? 'is' : 'are'
  return `${stage.words}: ${fasteners(labels)} ${verb} still to be ${DONE[stage.method]}.`
}

/**
 * The sentence on the second person, "" when none is asked for or one was there. `witness` is who witnessed it after the
 * last fastener, `hands` are those who tightened.
 */
export function witnessMissing(twoPeople: boolean, witness: string | null, hands: string[]): string {
  if (!twoPeople || (witness !== null && !hands.includes(witness))) return ''
  if (witness === null) return 'A second person has to witness it, after the last fastener.'
  return 'It was witnessed by one who tightened; a second person has to witness it.'
}

/** How long a stage took from its first to its last fastener, by the times as claimed: a fact, not a judgement. */
export function pace(code: string, done: DoneRow[]): Pace | null {
  if (!done.length) return null
  const count = done.length
  const fasteners = count === 1 ? '1 fastener' : `${count} fasteners`
  const seconds = Math.floor((Date.parse(done[count - 1]!.at) - Date.parse(done[0]!.at)) / 1000)
  let words = `${fasteners} in ${duration(seconds)}.`
  if (count === 1) words = `${fasteners}.`
  else if (seconds < 0) words = `${fasteners}; the clock went back between the first and the last.`
  return { stage: code, fasteners: count, seconds, words }
}

/** "6 seconds", "4 minutes 10 seconds", "2 hours 5 minutes"; what is left over is dropped. */
export function duration(seconds: number): string {
  if (seconds < 60) return counted(seconds, 'second')
  const long = seconds >= 3600
  const large = Math.floor(seconds / (long ? 3600 : 60))
  const small = long ? Math.floor((seconds % 3600) / 60) : seconds % 60
  const said = counted(large, long ? 'hour' : 'minute')
  return small ? `${said} ${counted(small, long ? 'minute' : 'second')}` : said
}

const counted = (count: number, thing: string) => (count === 1 ? `${count} ${thing}` : `${count} ${thing}s`)
