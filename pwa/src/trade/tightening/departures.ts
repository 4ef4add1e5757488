// Departures of a run from its sheet: what is said of each, under which key, and how it is settled. The twin of
// trade/tightening/departures.py.

import type { TighteningSheet } from './sheets.ts'
import type { RunEntry } from './entries.ts'
import type { TighteningStage } from './stages.ts'
import { say } from '../ground/say.ts'

/** Each with its words in a list of departures. */
export const SORTS = {
  out_of_order: say('tightening.sort.out_of_order'),
  skipped: say('tightening.sort.skipped'),
  repeated: say('tightening.sort.repeated'),
  over: say('tightening.sort.over'),
  under: say('tightening.sort.under'),
  wrong_tool: say('tightening.sort.wrong_tool'),
  overdue_tool: say('tightening.sort.overdue_tool'),
  out_of_range: say('tightening.sort.out_of_range'),
  stretch_reused: say('tightening.sort.stretch_reused'),
  order_proposed: say('tightening.sort.order_proposed'),
  other_unit: say('tightening.sort.other_unit'),
  other_state: say('tightening.sort.other_state'),
  overdue_count: say('tightening.sort.overdue_count'),
}
export type Sort = keyof typeof SORTS

export interface Answered {
  reason: string
  by: string
  entry: string
  how: 'reason' | 'restart'
}

/** `stage` is "" for the whole run and `label` "" for the whole stage. */
export interface Departure {
  key: string
  sort: Sort
  stage: string
  label: string
  words: string
  answered: Answered | null
  needs: 'reason' | 'manager'
}

const MOST_OF_A_LABEL = 30
/** What was done is not undone by doing the stage again. */
const STAYS: Sort[] = ['order_proposed', 'stretch_reused']

/**
 * All departures of a run in the order in which they arose. A key is stage/fastener/sort/number, and the number counts
 * those alike, so that what comes later changes no key.
 */
export class Departures {
  readonly all: Departure[] = []
  private readonly counts = new Map<string, number>()
  private readonly byKey = new Map<string, Departure>()

  constructor(private readonly stages: string[]) {}

  count(stage: string, label: string, sort: Sort): number {
    return this.counts.get(stem(stage, label, sort)) ?? 0
  }

  add(sort: Sort, stage: string, label: string, words: string): void {
    const alike = stem(stage, label, sort)
    const number = (this.counts.get(alike) ?? 0) + 1
    this.counts.set(alike, number)
    const key = `${alike}${number}`
    const needs = sort === 'stretch_reused' ? 'manager' : 'reason'
    const departure: Departure = { key, sort, stage, label, words, answered: null, needs }
    this.all.push(departure)
    this.byKey.set(key, departure)
  }

  /**
   * Takes a reason. One that comes before its departure, or from nobody who may give it, answers nothing; of two
   * reasons the later one is shown.
   */
  answer(entry: RunEntry, managers: readonly string[]): void {
    const departure = this.byKey.get(String(entry.body['departure']))
    if (!departure || (departure.needs === 'manager' && !managers.includes(entry.author))) return
    if (!departure.answered || departure.answered.how === 'reason') departure.answered = answered(entry, 'reason')
  }

  /** Settles the open departures of the stages that are begun again. */
  restart(entry: RunEntry, stages: string[]): void {
    for (const departure of this.open()) {
      if (this.restartable(departure) && stages.includes(departure.stage)) departure.answered = answered(entry, 'restart')
    }
  }

  open(): Departure[] {
    return this.all.filter((departure) => !departure.answered)
  }

  /** The sentence that says what is missing while a departure is open. */
  asks(departure: Departure): string {
    const about = { departure: departure.words }
    if (departure.needs === 'manager') return say('tightening.needs_manager', about)
    return this.restartable(departure) ? say('tightening.needs_reason_or_restart', about) : say('tightening.needs_reason', about)
  }

  restartable(departure: Departure): boolean {
    return !STAYS.includes(departure.sort) && this.stages.includes(departure.stage)
  }
}

/** A key without its number. What the sheet has not may be called anything; a key has 80 characters at most. */
function stem(stage: string, label: string, sort: Sort): string {
  return `${stage}/${[...label].slice(0, MOST_OF_A_LABEL).join('')}/${sort}/`
}

function answered(entry: RunEntry, how: Answered['how']): Answered {
  return { reason: String(entry.body['reason']), by: entry.author, entry: entry.id, how }
}

/**
 * The sentence when stretch bolts are tightened more often than the sheet allows, or nobody knows how often; "" when all
 * is well. `begun` is the body of tightening_begun.
 */
export function stretchWords(sheet: TighteningSheet, begun: Record<string, unknown>): string {
  const most = sheet.uses_most
  const { direction, bolts, use } = begun as { direction: string; bolts: string; use: number }
  if (sheet.bolt !== 'stretch' || direction !== 'tighten' || bolts === 'new' || most === 0) return ''
  if (bolts === 'unknown') return say('tightening.stretch_unknown', { most: times(most) })
  const before = Math.max(use, 1)
  if (before < most) return ''
  return say('tightening.stretch_reused', { before: times(before), most: times(most) })
}

/**
 * The sentence when an angle stage of stretch bolts, of which `done` fasteners were turned, is begun again: new bolts are
 * used bolts from then on. "" for other stages and bolts.
 */
export function turnedAgainWords(sheet: TighteningSheet, stage: TighteningStage, done: number): string {
  if (sheet.bolt !== 'stretch' || stage.method !== 'angle' || !done) return ''
  const words = say('tightening.restarted_after', { stage: stage.words, count: done })
  return sheet.length_most ? `${words} ${say('tightening.longest', { length: sheet.length_most })}` : words
}

export function times(count: number): string {
  if (count === 1) return say('tightening.once')
  return count === 2 ? say('tightening.twice') : say('tightening.times', { count })
}
