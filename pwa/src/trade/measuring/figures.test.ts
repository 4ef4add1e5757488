import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { across, evaluate, PLACES, type AcrossRow, type Figure, type Input } from './figures.ts'
import type { Procedure } from './procedures.ts'
import { decimalText, fromSi, read, toSi, UNITS, type Fraction, usualUnit } from '../ground/units.ts'

type Made = {
  of: string
  inputs: Record<string, string>
  lists: Record<string, string[]>
  figures: Record<string, object>
}
type Worked = {
  name: string
  of: string
  inputs: Record<string, string>
  lists: Record<string, string[]>
  figures: Record<string, string | null>
  exact?: Record<string, string>
  missing?: Record<string, string[]>
  picked?: Record<string, string[]>
}
type Compared = {
  name: string
  of: string
  compression_share: string
  rows: { place: string; bank: string; index: number; values: Record<string, string | null> }[]
  across: Record<string, [string | null, string[], [string, string][]?]>
}

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/figures.json', import.meta.url), 'utf8'))
const procedures: Procedure[] = vectors.procedures
const procedure = (code: string) => procedures.find((procedure) => procedure.code === code)!

function asInput(text: string): Input {
  const reading = read(text)
  return { amount: toSi(reading.amount, reading.unit), unit: reading.unit, places: reading.places }
}

function mapped<A, B>(all: Record<string, A>, each: (value: A) => B): Record<string, B> {
  return Object.fromEntries(Object.entries(all).map(([name, value]) => [name, each(value)]))
}

function evaluated(vector: { of: string; inputs: Record<string, string>; lists: Record<string, string[]> }) {
  const lists = mapped(vector.lists, (texts) => texts.map(asInput))
  const figures = evaluate(procedure(vector.of), mapped(vector.inputs, asInput), lists)
  return Object.fromEntries(figures.map((figure) => [figure.code, figure]))
}

/** As Python writes a fraction. */
const text = (amount: Fraction) => (amount.under === 1n ? `${amount.over}` : `${amount.over}/${amount.under}`)

function written(figure: Figure): object {
  const { unit, places } = figure
  if (!figure.amount) return { missing: figure.missing, unit, places }
  return { amount: text(figure.amount), weights: mapped(figure.weights, text), picked: figure.picked, unit, places }
}

function shown(figure: Figure): string | null {
  if (!figure.amount) return null
  return `${decimalText(fromSi(figure.amount, figure.unit), figure.places)} ${figure.unit}`.trim()
}

describe('what readings amount to', () => {
  it.each<Worked>(vectors.worked)('$name', (vector) => {
    const figures = evaluated(vector)
    for (const [code, wanted] of Object.entries(vector.figures)) expect(shown(figures[code]!), code).toBe(wanted)
    for (const [code, wanted] of Object.entries(vector.exact ?? {})) expect(text(figures[code]!.amount!)).toBe(reduced(wanted))
    for (const [code, wanted] of Object.entries(vector.missing ?? {})) expect(figures[code]!.missing).toEqual(wanted)
    for (const [code, wanted] of Object.entries(vector.picked ?? {})) expect(figures[code]!.picked).toEqual(wanted)
  })

  it.each<Made>(vectors.made)('$of agrees to the last digit', (vector) => {
    expect(mapped(evaluated(vector), written)).toEqual(vector.figures)
  })

  it.each<Compared>(vectors.across)('$name', (vector) => {
    const rows: AcrossRow[] = vector.rows.map((row) => ({
      ...row,
      values: mapped(row.values, (typed) => (typed === null ? null : asInput(typed).amount)),
    }))
    const comparisons = across(procedure(vector.of), rows, { compression_share: vector.compression_share })
    for (const [code, [amount, places, pairs = []]] of Object.entries(vector.across)) {
      const line = comparisons.find((each) => each.code === code)!
      expect(line.places, code).toEqual(places)
      expect(line.pairs, code).toEqual(pairs)
      if (amount === null) expect(line.amount, code).toBeNull()
      else {
        const wanted = asInput(amount)
        expect(decimalText(fromSi(line.amount!, wanted.unit), wanted.places!), code).toBe(amount.split(' ')[0])
      }
    }
  })

  it.each(Object.keys(UNITS))('"%s" has its usual decimals, and its kind a unit', (unit) => {
    expect(PLACES[unit]).toBeTypeOf('number')
    expect(UNITS[usualUnit(UNITS[unit]!.kind)]!.kind).toBe(UNITS[unit]!.kind)
  })
})

function reduced(wanted: string): string {
  const [over, under = '1'] = wanted.split('/') as [string, string?]
  let [a, b] = [BigInt(over), BigInt(under)]
  while (b) [a, b] = [b, a % b]
  const common = a < 0n ? -a : a
  return text({ over: BigInt(over) / common, under: BigInt(under) / common })
}
