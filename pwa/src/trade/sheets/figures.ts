// One figure of a sheet: value, uncertainty and verdicts, by what counts now and by what counted when it was read.
// The twin of trade/sheets/figures.py.

import { compare, times } from '../ground/amounts.ts'
import { say } from '../ground/say.ts'
import type { Figure } from '../measuring/figures.ts'
import { rulesOf, type Statement } from '../measuring/known.ts'
import { covers, type Limit } from '../measuring/limits.ts'
import { DEFAULT, type Rules } from '../measuring/rules.ts'
import { pointWords, type FigureLine, type Procedure } from '../measuring/procedures.ts'
import { contributions, readFor, type PlaceResult, type Job } from './job.ts'
import type { SingleReading } from './readings.ts'
import type { SheetFigure } from './types.ts'
import { verdict } from './verdicts.ts'
import * as words from './words.ts'
import { combine, corrected, freedomText, mean, SOURCES } from '../measuring/uncertainty.ts'
import { decimalText } from '../ground/units.ts'

/** A figure as the sheet shows it. `line` is its line in the procedure. */
export function figure(
  job: Job,
  procedure: Procedure,
  state: string,
  place: string,
  at: PlaceResult,
  one: Figure,
  line: FigureLine,
): SheetFigure {
  const rules = rulesOf(job.known)
  const unit = words.shownUnit(one.kind, one.unit, rules)
  const places = words.shownPlaces(one.places, one.unit, unit)
  const found: SheetFigure = {
    code: one.code,
    words: one.words,
    definition: line.definition,
    value: null,
    unit,
    missing: one.missing.map((name) => missing(procedure, name)),
    from: one.picked,
    u: null,
    U: null,
    k: '',
    dof: '',
    budget: [],
    unknown: [],
    guide: stop(procedure, one) || guide(at, line.guide, unit, places),
    corrected: '',
    overdue: [],
    now: [],
    then: null,
    draw: null,
  }
  if (one.amount === null) return found
  const { weights, made } = contributions(at, one)
  const budget = combine(weights, made, rules)
  found.value = words.amountText(one.amount, unit, places)
  found.unknown = budget.unknown
  if (budget.variance !== null) {
    found.u = words.spreadText(budget.variance, unit)
    found.U = words.expandedText(budget.variance, budget.k, unit)
    found.k = decimalText(budget.k, 2)
    found.dof = freedomText(budget.dof)
    found.budget = budget.lines.map((part) => ({
      source: SOURCES[part.source]!,
      words: part.words,
      u: words.spreadText(part.variance, unit),
      share: words.shareText(part.share),
    }))
  }
  found.draw = { value: words.ink(found.value), U: found.U === null ? null : words.ink(found.U) }
  if (Object.values(made).some((each) => compare(corrected(each, rules), mean(each)) !== 0)) {
    found.corrected = say('sheets.at_20')
  }
  const read = readFor(at, one)
  found.overdue = overdueWords(read)
  const last = read.reduce<SingleReading | null>((a, b) => (a && a.given.id > b.given.id ? a : b), null)
  const day = last ? last.given.claimed.slice(0, 10) : ''
  const { now, then } = judgedBy(job, procedure, state, place, one, last)
  const register = Object.values(job.known.gauges).map((gauge) => gauge.data)
  const grounds = { weights, made, budget, rules, register, day }
  found.now = now.map((said) => verdict(said.data, one, unit, places, grounds))
  if (then) {
    const its = then.rules === rules ? budget : combine(weights, made, then.rules)
    const earlier = { ...grounds, budget: its, rules: then.rules }
    const judged = then.limits.map((limit) => verdict(limit.data, one, unit, places, earlier))
    found.then = JSON.stringify(judged) === JSON.stringify(found.now) ? null : judged
  }
  return found
}

function missing(procedure: Procedure, name: string): string {
  return procedure.sizes.find((size) => size.code === name)?.words ?? pointWords(procedure, name)
}

/** The gauges that were past their date when they gave a reading, each once: for good. */
function overdueWords(read: SingleReading[]): string[] {
  const late = read.flatMap(({ overdue, gauge }) =>
    overdue && gauge ? say('sheets.gauge_due', { gauge: gauge.name, due: gauge.due }) : [],
  )
  return [...new Set(late)].sort(words.byText)
}

// No rule of thumb but what the thing is: said whatever limits are set, since without one there is no verdict either.
const STOPS: Record<string, string> = {
  'gudgeon_pin_centring least_recess': say('sheets.stop_pin'),
}

function stop(procedure: Procedure, one: Figure): string {
  return one.amount !== null && one.amount.over <= 0n ? (STOPS[`${procedure.code} ${one.code}`] ?? '') : ''
}

/** Common practice in words with its number, where the thing that it goes by is there. Never a limit. */
function guide(at: PlaceResult, line: FigureLine['guide'], unit: string, places: number): string {
  if (!line) return ''
  const by = at.figures.find((figure) => figure.code === line.of) ?? at.inputs.get(line.of)
  if (!by || by.amount === null || words.kindOf(by.unit) !== words.kindOf(unit)) {
    return say('sheets.guide', { guide: line.words })
  }
  const text = words.amountText(times(by.amount, words.readFraction(line.by)), unit, places)
  return say('sheets.guide_about', { guide: line.words, amount: `${text} ${unit}` })
}

interface JudgedBy {
  now: Statement<Limit>[]
  then: { rules: Rules; limits: Statement<Limit>[] } | null
}

/**
 * The limits that count now, and rules and limits that counted when the newest reading was made; null for those when
 * they are the same entries.
 */
function judgedBy(
  job: Job,
  { code }: Procedure,
  state: string,
  place: string,
  one: Figure,
  last: SingleReading | null,
): JudgedBy {
  const on = last ? last.given.claimed.slice(0, 10) : ''
  const here = (said: Statement<Limit>[]) => {
    const found = said.filter(({ data }) => judges(data, one, place))
    // What machining must reach at this place alone replaces what holds for all.
    const cut = found.filter(({ data }) => data.sort === 'machining')
    return cut.length ? cut : found
  }
  const now = here(job.limitsOf(code, state, on))
  if (!last?.body.basis) return { now, then: null }
  const { byEntry, rules: ruled } = job.known
  const basis = last.body.basis.flatMap((id) => (Object.hasOwn(byEntry, id) ? byEntry[id]! : []))
  const rules = (basis.find((said) => said.kind === 'measuring_rules_set') ?? null) as Statement<Rules> | null
  const limits = basis.filter((said) => said.kind === 'limit_set') as Statement<Limit>[]
  const then = here(job.judging(limits, code, state, on))
  const entries = (said: Statement<Limit>[]) => said.map((each) => each.entry).sort().join()
  if (entries(then) === entries(now) && rules?.entry === ruled?.entry) return { now, then: null }
  return { now, then: { rules: rules?.data ?? DEFAULT, limits: then } }
}

function judges(limit: Limit, one: Figure, place: string): boolean {
  return limit.figure === one.code && words.kindOf(limit.unit) === one.kind && covers(limit.where, place)
}
