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
  computed: Figure,
  line: FigureLine,
): SheetFigure {
  const rules = rulesOf(job.known)
  const unit = words.shownUnit(computed.kind, computed.unit, rules)
  const places = words.shownPlaces(computed.places, computed.unit, unit)
  const shown: SheetFigure = {
    code: computed.code,
    words: computed.words,
    definition: line.definition,
    value: null,
    unit,
    missing: computed.missing.map((name) => missing(procedure, name)),
    from: computed.picked,
    u: null,
    U: null,
    k: '',
    dof: '',
    budget: [],
    unknown: [],
    guide: stop(procedure, computed) || guide(at, line.guide, unit, places),
    corrected: '',
    overdue: [],
    now: [],
    then: null,
    draw: null,
  }
  if (computed.amount === null) return shown
  const { weights, made } = contributions(at, computed)
  const budget = combine(weights, made, rules)
  shown.value = words.amountText(computed.amount, unit, places)
  shown.unknown = budget.unknown
  if (budget.variance !== null) {
    shown.u = words.spreadText(budget.variance, unit)
    shown.U = words.expandedText(budget.variance, budget.k, unit)
    shown.k = decimalText(budget.k, 2)
    shown.dof = freedomText(budget.dof)
    shown.budget = budget.lines.map((part) => ({
      source: SOURCES[part.source]!,
      words: part.words,
      u: words.spreadText(part.variance, unit),
      share: words.shareText(part.share),
    }))
  }
  shown.draw = { value: words.ink(shown.value), U: shown.U === null ? null : words.ink(shown.U) }
  if (Object.values(made).some((each) => compare(corrected(each, rules), mean(each)) !== 0)) {
    shown.corrected = say('sheets.at_20')
  }
  const read = readFor(at, computed)
  shown.overdue = overdueWords(read)
  const last = read.reduce<SingleReading | null>((a, b) => (a && a.given.id > b.given.id ? a : b), null)
  const day = last ? last.given.claimed.slice(0, 10) : ''
  const { now, then } = judgedBy(job, procedure, state, place, computed, last)
  const register = Object.values(job.known.gauges).map((gauge) => gauge.data)
  const grounds = { weights, made, budget, rules, register, day }
  shown.now = now.map((statement) => verdict(statement.data, computed, unit, places, grounds))
  if (then) {
    const its = then.rules === rules ? budget : combine(weights, made, then.rules)
    const earlier = { ...grounds, budget: its, rules: then.rules }
    const judged = then.limits.map((limit) => verdict(limit.data, computed, unit, places, earlier))
    shown.then = JSON.stringify(judged) === JSON.stringify(shown.now) ? null : judged
  }
  return shown
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

function stop(procedure: Procedure, computed: Figure): string {
  return computed.amount !== null && computed.amount.over <= 0n ? (STOPS[`${procedure.code} ${computed.code}`] ?? '') : ''
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
  computed: Figure,
  last: SingleReading | null,
): JudgedBy {
  const on = last ? last.given.claimed.slice(0, 10) : ''
  const here = (statements: Statement<Limit>[]) => {
    const judging = statements.filter(({ data }) => judges(data, computed, place))
    // What machining must reach at this place alone replaces what holds for all.
    const cut = judging.filter(({ data }) => data.sort === 'machining')
    return cut.length ? cut : judging
  }
  const now = here(job.limitsOf(code, state, on))
  if (!last?.body.basis) return { now, then: null }
  const { byEntry, rules: ruled } = job.known
  const basis = last.body.basis.flatMap((id) => (Object.hasOwn(byEntry, id) ? byEntry[id]! : []))
  const rules = (basis.find((statement) => statement.kind === 'measuring_rules_set') ?? null) as Statement<Rules> | null
  const limits = basis.filter((statement) => statement.kind === 'limit_set') as Statement<Limit>[]
  const then = here(job.judging(limits, code, state, on))
  const entries = (statements: Statement<Limit>[]) => statements.map((each) => each.entry).sort().join()
  if (entries(then) === entries(now) && rules?.entry === ruled?.entry) return { now, then: null }
  return { now, then: { rules: rules?.data ?? DEFAULT, limits: then } }
}

function judges(limit: Limit, computed: Figure, place: string): boolean {
  return limit.figure === computed.code && words.kindOf(limit.unit) === computed.kind && covers(limit.where, place)
}
