import { readFileSync } from 'node:fs'
import { expect, it } from 'vitest'
import { evaluate, type Figure, type Input } from '../measuring/figures.ts'
import { read, toSi, type Fraction } from '../ground/units.ts'
import { BUILT_IN } from '../measuring/procedures.ts'

type Made = { of: string; inputs: Record<string, string>; lists: Record<string, string[]>; figures: Record<string, object> }

const { made }: { made: Made[] } = JSON.parse(readFileSync(new URL('../../../../tests/vectors/built_in_figures.json', import.meta.url), 'utf8'))

function asInput(text: string): Input {
  const reading = read(text)
  return { amount: toSi(reading.amount, reading.unit), unit: reading.unit, places: reading.places }
}

function mapped<A, B>(all: Record<string, A>, each: (value: A) => B): Record<string, B> {
  return Object.fromEntries(Object.entries(all).map(([name, value]) => [name, each(value)]))
}

/** As Python writes a fraction. */
const text = (amount: Fraction) => (amount.under === 1n ? `${amount.over}` : `${amount.over}/${amount.under}`)

function written(figure: Figure): object {
  const { unit, places } = figure
  if (!figure.amount) return { missing: figure.missing, unit, places }
  return { amount: text(figure.amount), weights: mapped(figure.weights, text), picked: figure.picked, unit, places }
}

it.each(made)('$of agrees to the last digit', ({ of, inputs, lists, figures }) => {
  const sets = mapped(lists, (texts) => texts.map(asInput))
  const computed = evaluate(BUILT_IN[of]!, mapped(inputs, asInput), sets)
  expect(Object.fromEntries(computed.map((figure) => [figure.code, written(figure)]))).toEqual(figures)
})
