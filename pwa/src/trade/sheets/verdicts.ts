// A verdict as a sheet shows it. The twin of trade/sheets/verdicts.py.

import { by, NOTHING } from '../ground/amounts.ts'
import type { Figure } from '../measuring/figures.ts'
import type { Gauge } from '../measuring/gauges.ts'
import type { Limit } from '../measuring/limits.ts'
import type { Rules } from '../measuring/rules.ts'
import { settle } from '../measuring/settling.ts'
import type { Judged } from './types.ts'
import { amountText, ink, probabilityText, shownPlaces, sizeOf } from './words.ts'
import type { Budget, Made } from '../measuring/uncertainty.ts'
import { decimalText, read, toSi, type Fraction } from '../ground/units.ts'
import { judge } from '../measuring/verdicts.ts'

/**
 * What a figure is judged by: its readings and their weights, its budget, the rules; the gauges of the register and the
 * day on which one of them would have to be in date.
 */
export interface Grounds {
  weights: Record<string, Fraction>
  made: Record<string, Made>
  budget: Budget
  rules: Rules
  register: Gauge[]
  day: string
}

/** The verdict on a figure that has an amount. `unit` and `places` are those in which the figure is shown. */
export function verdict(limit: Limit, figure: Figure, unit: string, places: number, grounds: Grounds): Judged {
  const { weights, made, budget, rules } = grounds
  const amount = figure.amount ?? NOTHING
  const si = (text: string): Fraction | null => (text ? toSi(read(text).amount, limit.unit) : null)
  const [low, high] = [si(limit.low), si(limit.high)]
  const judged = judge(amount, budget, low, high, rules.rule)
  const open = judged.standing === 'not proven'
  const typed = [limit.low, limit.high].filter(Boolean).map((text) => (text.split('.')[1] ?? '').length)
  const finest = Math.max(...typed, shownPlaces(figure.places, figure.unit, limit.unit))
  const drawn = (end: Fraction | null) => (end ? ink(amountText(end, unit, places + 3)) : null)
  return {
    limit: limit.id,
    sort: limit.sort,
    low: limit.low,
    high: limit.high,
    unit: limit.unit,
    source: limit.source,
    standing: judged.standing,
    excess: judged.excess === null ? '' : decimalText(by(judged.excess, sizeOf(limit.unit)), finest),
    side: judged.side,
    probability: judged.probability === null ? '' : probabilityText(judged.probability),
    rule: rules.rule,
    settle: open ? settle({ amount, low, high, weights, made, rules, unit }, grounds.register, grounds.day) : [],
    draw: { low: drawn(low), high: drawn(high) },
  }
}
