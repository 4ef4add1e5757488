import { describe, expect, it } from 'vitest'
import { amount, each, made, text, vectors } from '../../../support/made.ts'
import { DEFAULT } from './rules.ts'
import { type Column, combine, corrected, factor } from './uncertainty.ts'

const { gauges, budgets, factors } = vectors('uncertainty.json')

describe('budgets of uncertainty, as on the server', () => {
  it.each<any>(budgets)('budget %#', (vector) => {
    const rules = { ...DEFAULT, ...vector.rules }
    const readings = each(vector.made, (given) => made(given, gauges))
    const { variance, dof, k, lines, unknown } = combine(each<string, any>(vector.weights, amount), readings, rules)
    const written = lines.map((line) => [line.source, line.words, text(line.variance), text(line.share)])
    expect({ variance: text(variance), dof, k: text(k), lines: written, unknown }).toEqual(vector.budget)
    expect(each(readings, (reading) => text(corrected(reading, rules)))).toEqual(vector.corrected)
  })

  it.each<[number | null, Column, string]>(factors)('factor for %s, %s', (freedom, column, value) => {
    expect(text(factor(freedom, column))).toBe(value)
  })
})
