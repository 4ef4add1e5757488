// What a sheet says over all places of an engine. The twin of trade/sheets/across.py.

import { exactText, times, whole } from '../ground/amounts.ts'
import { say } from '../ground/say.ts'
import { across as compareAll, type Across, type AcrossRow } from '../measuring/figures.ts'
import { exact } from '../ground/described.ts'
import type { Rules } from '../measuring/rules.ts'
import type { AcrossLine, Procedure } from '../measuring/procedures.ts'
import type { PlaceResult, Job } from './job.ts'
import type { SheetAcross } from './types.ts'
import { amountText, readFraction, shownPlaces, shownUnit, usualPlaces } from './words.ts'
import { decimalText, type Fraction, usualUnit } from '../ground/units.ts'

export type Names = Map<string, { name: string; bank: string }>

/** The lines of `across`, each with its value as shown, the places it speaks of and a sentence. */
export function across(job: Job, procedure: Procedure, at: Map<string, PlaceResult>, names: Names, rules: Rules): SheetAcross[] {
  const rows: AcrossRow[] = [...at].map(([place, result]) => {
    const values: Record<string, Fraction | null> = {}
    for (const [name, input] of result.inputs) values[name] = input.amount
    for (const figure of result.figures) values[figure.code] = figure.amount
    return { place, bank: names.get(place)!.bank, index: alongBank(job, place), values }
  })
  return compareAll(procedure, rows, rules).map((comparison, i) => shown(comparison, procedure.across[i]!, at, names, rules))
}

/** Where in its bank a place lies, from the front: neighbours differ by one. */
function alongBank(job: Job, place: string): number {
  const here = job.everyPlace.find((candidate) => candidate.code === place)
  if (!here) return 0
  const bank = job.engine?.banks.find((candidate) => candidate.code === here.bank)
  if (bank && here.cylinder !== null) return bank.cylinders.indexOf(here.cylinder)
  return here.crankpin ?? here.main ?? 0
}

function shown(comparison: Across, line: AcrossLine, at: Map<string, PlaceResult>, names: Names, rules: Rules): SheetAcross {
  const typed = unitOf(line.of, at, comparison.kind, rules)
  const share = line.do === 'spread_share'
  const unit = share ? '%' : typed.unit
  let value: string | null = null
  if (comparison.amount !== null && share) value = decimalText(times(comparison.amount, whole(100)), 1)
  else if (comparison.amount !== null) {
    const finer = ['mean', 'under_share', 'neighbours_under'].includes(line.do) ? 1 : 0
    value = amountText(comparison.amount, unit, typed.places + finer)
  }
  return {
    code: comparison.code,
    words: comparison.words,
    definition: line.definition,
    value,
    unit,
    places: comparison.places,
    words_said: value === null ? '' : sentenceFor(comparison, line, `${value} ${unit}`.trimEnd(), names, rules),
  }
}

/** Unit and decimals as the places show them: the unit of the first, the most decimals of all that share it. */
function unitOf(of: string, at: Map<string, PlaceResult>, kind: string, rules: Rules): { unit: string; places: number } {
  const typed = [...at.values()].flatMap((result) => {
    const input = result.inputs.get(of)
    return [
      ...result.figures.filter((figure) => figure.code === of && figure.amount !== null),
      ...(input ? [{ unit: input.unit, places: input.places ?? usualPlaces(input.unit) }] : []),
    ]
  })
  if (typed.length === 0) {
    const unit = usualUnit(kind)
    return { unit: shownUnit(kind, unit, rules), places: usualPlaces(unit) }
  }
  const unit = typed[0]!.unit
  const into = shownUnit(kind, unit, rules)
  const most = Math.max(...typed.filter((figure) => figure.unit === unit).map((figure) => figure.places))
  return { unit: into, places: shownPlaces(most, unit, into) }
}

function sentenceFor(comparison: Across, line: AcrossLine, value: string, names: Names, rules: Rules): string {
  const name = (place: string) => names.get(place)!.name
  const there = comparison.places.map(name)
  switch (line.do) {
    case 'highest':
    case 'lowest':
      return say('sheets.at_places', { value, places: there.join(', ') })
    case 'spread':
    case 'spread_share':
      return there.length ? say('sheets.between', { value, first: there[0]!, second: there[1]! }) : value
    case 'ranking':
      return say('sheets.ranking', { places: there.join(', ') })
    case 'mean':
      return say('sheets.over_all', { value })
  }
  const percent = exactText(line.share === 'rule' ? exact(rules.compression_share) : times(readFraction(line.share), whole(100)))
  if (line.do === 'under_share') {
    if (!there.length) return say('sheets.under_none', { value, percent })
    return say('sheets.under_these', { places: there.join(', '), value, percent })
  }
  const pairs = comparison.pairs.map(([first, second]) => say('sheets.pair', { first: name(first), second: name(second) })).join('; ')
  return pairs ? say('sheets.under_beside', { pairs, value, percent }) : say('sheets.under_none_beside', { value, percent })
}
