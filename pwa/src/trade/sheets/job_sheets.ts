// Measurement sheets: what a job's readings amount to, by what the workshop says. The twin of trade/sheets/job_sheets.py: the same
// readings give the same sheet on both sides, text for text.

import { rulesOf, type Known } from '../measuring/known.ts'
import { placeName } from '../engine/locations.ts'
import { RULES } from '../measuring/rules.ts'
import { mark } from './odd_reading.ts'
import type { EngineType } from '../engine/parts.ts'
import { required, type Procedure } from '../measuring/procedures.ts'
import { across, type Names } from './across.ts'
import { figure } from './figures.ts'
import * as head from './head.ts'
import { Job, type PlaceResult } from './job.ts'
import { shown } from './readings.ts'
import type { ReadingIn, Sheet, SheetPlace, Taken } from './types.ts'
import { amountText, byText, SINGLE, STATES } from './words.ts'

/**
 * The sheet of one procedure in one state alone, which costs less; without readings it is the blank one. With `newest` in
 * the newest edition, for whoever takes the next reading; else in the one that the readings were made by.
 */
export function sheet(
  engine: EngineType | null,
  readings: ReadingIn[],
  known: Known,
  procedure: string,
  state: string,
  newest = false,
): Sheet {
  return make(new Job(engine, readings, known, newest), procedure, state)
}

function make(job: Job, code: string, state: string): Sheet {
  const procedure = job.procedure(code, state)
  const rules = rulesOf(job.known)
  const names = placeNames(job, code, state, procedure)
  const at = new Map<string, PlaceResult>()
  for (const place of names.keys()) {
    const result = job.at(code, state, place)
    if (result) at.set(place, result)
  }
  const read = [...at.values()].flatMap((result) => [...result.taken.values()].flatMap((taken) => taken.values))
  const last = read.map((reading) => reading.given).reduce((a, b) => (a && a.id > b.id ? a : b), read[0]?.given)
  const page: Sheet = {
    procedure: code,
    edition: procedure?.edition ?? 0,
    name: procedure?.name ?? (code || SINGLE),
    part: procedure?.part ?? '',
    state,
    state_words: STATES[state] ?? state,
    unit: head.unit(procedure, at, rules),
    drawing: procedure?.drawing ?? 'list',
    cautions: procedure?.cautions ?? [],
    walk: procedure?.walk ?? 'place',
    axes: procedure?.grid ?? [],
    readings_asked: head.askedReadings(procedure, at),
    sizes: head.sizes(job, procedure),
    limits_now: head.limitsNow(job, code, state, last ? last.claimed.slice(0, 10) : ''),
    places: [...at].map(([place, result]) => ofPlace(job, procedure, state, place, names.get(place)!, result)),
    across: procedure ? across(job, procedure, at, names, rules) : [],
    overdue: head.overdue(at),
    gauges: head.gauges(at),
    rule: rules.rule,
    rule_words: RULES[rules.rule]!,
  }
  mark(page)
  return page
}

/** Place -> its name and bank: all of the part that the engine has, then others where something was read. */
function placeNames(job: Job, code: string, state: string, procedure: Procedure | null): Names {
  const names: Names = new Map()
  for (const place of job.everyPlace) {
    if (procedure && place.part === procedure.part) names.set(place.code, { name: place.name, bank: place.bank })
  }
  const along = new Map(job.everyPlace.map((place, i) => [place.code, { i, bank: place.bank }]))
  const at = (place: string) => along.get(place)?.i ?? along.size
  const others = [...(job.group(code, state)?.keys() ?? [])].filter((place) => !names.has(place))
  for (const place of others.sort((a, b) => at(a) - at(b) || byText(a, b))) {
    names.set(place, { name: placeName(job.engine, place), bank: along.get(place)?.bank ?? '' })
  }
  return names
}

function ofPlace(
  job: Job,
  procedure: Procedure | null,
  state: string,
  place: string,
  named: { name: string; bank: string },
  at: PlaceResult,
): SheetPlace {
  // Without the names that every object has: a reading may be called anything, "__proto__" too.
  const readings: Record<string, Taken> = Object.create(null)
  for (const [name, taken] of at.taken) readings[name] = shown(taken)
  for (const [name, { figure: computed, procedure: from, place: there, state: its }] of at.borrowed) {
    readings[name] = {
      mean: computed.amount === null ? '' : amountText(computed.amount, computed.unit, computed.places),
      unit: computed.unit,
      n: 0,
      scatter: '',
      values: [],
      odd: false,
      borrowed: { procedure: from, place: there, state: its },
    }
  }
  const missing = procedure ? required(procedure).filter((name) => !at.inputs.has(name)) : []
  return {
    place,
    name: named.name,
    bank: named.bank,
    done: Object.keys(readings).length > 0 && missing.length === 0,
    missing,
    readings,
    figures: procedure ? at.figures.map((computed, i) => figure(job, procedure, state, place, at, computed, procedure.figures[i]!)) : [],
  }
}
