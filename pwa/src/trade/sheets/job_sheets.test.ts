import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import { basisFor, gaugeOf, known, proceduresFor } from '../measuring/known.ts'
import { odd } from './odd_reading.ts'
import type { EngineType } from '../engine/parts.ts'
import { sheet } from './job_sheets.ts'
import type { ReadingIn, Sheet } from './types.ts'
import type { KnownEntry } from '../measuring/entries.ts'

const written = (name: string) =>
  JSON.parse(readFileSync(new URL(`../../../../tests/vectors/${name}`, import.meta.url), 'utf8'))
const all = engines.engine_types as unknown as EngineType[]
const engine = (name: string | null) => all.find((engineType) => engineType.name === name) ?? null

interface Case {
  name: string
  engine_type: string | null
  known: KnownEntry[]
  readings: ReadingIn[]
  sheets: Sheet[]
}
const CASES: Case[] = written('sheets.json').cases
const named = (name: string) => CASES.find((vector) => vector.name === name)!
const gaugeId = (vector: Case, name: string) =>
  Object.values(known(vector.known).gauges).find((gauge) => gauge.data.name === name)?.data.id ?? name

describe('readings come to the same sheet on the phone and on the server', () => {
  it.each(CASES)('in whatever order the readings come: $name', (vector) => {
    for (const wanted of vector.sheets) {
      const turned = [...vector.readings].reverse()
      for (const readings of [vector.readings, turned]) {
        const result = sheet(engine(vector.engine_type), readings, known(vector.known), wanted.procedure, wanted.state)
        // Text for text: through JSON, as the server gives it.
        expect(JSON.parse(JSON.stringify(result))).toEqual(wanted)
      }
    }
  })

  it('a blank sheet asks for everything and claims nothing', () => {
    const vector = named('a bore judged by service limits')
    const result = sheet(engine(vector.engine_type), [], known(vector.known), 'cylinder_bore', 'as_found')
    expect(result.places.map((place) => [place.done, place.missing.length, place.readings])).toEqual([[false, 6, {}]])
    expect(result.places[0]!.figures.every((figure) => figure.value === null)).toBe(true)
  })
})

describe('what is known', () => {
  interface Asked {
    case: string
    procedure: string
    place: string
    gauge: string
    on: string
    basis: string[]
  }
  it.each<Asked>(written('known.json').basis)('basis of $procedure at $place in "$case"', (vector) => {
    const from = named(vector.case)
    const id = engine(from.engine_type)?.id ?? ''
    const basis = basisFor(known(from.known), id, vector.procedure, vector.place, gaugeId(from, vector.gauge), vector.on)
    expect(basis).toEqual(vector.basis)
  })

  interface Gave {
    case: string
    basis: number[]
    gauge: string
    claimed: string
    due: string | null
  }
  it.each<Gave>(written('known.json').gauges)('the gauge $gauge at $claimed by $basis', (vector) => {
    const from = named(vector.case)
    const basis = vector.basis.map((index) => from.known[index]!.id)
    expect(gaugeOf(known(from.known), basis, gaugeId(from, vector.gauge), vector.claimed)?.due ?? null).toBe(vector.due)
  })

  it.each<{ case: string; engine_type: string | null; part: string; codes: string[] }>(written('known.json').procedures)(
    'procedures for $part of the $engine_type',
    (vector) => {
      const procedures = proceduresFor(known(named(vector.case).known), engine(vector.engine_type), vector.part)
      expect(procedures.map((procedure) => procedure.code)).toEqual(vector.codes)
    },
  )
})

interface Asking {
  case: string
  procedure?: string
  state?: 'as_found' | 'machined' | 'built'
  place: string
  reading: string
  amount: string
  unit: string
  question: string
}
it.each<Asking>(written('odd_reading.json').cases)('$amount $unit for $reading at $place in "$case"', (vector) => {
  const from = named(vector.case)
  const [procedure, state] = [vector.procedure ?? 'cylinder_bore', vector.state ?? 'as_found']
  const result = sheet(engine(from.engine_type), from.readings, known(from.known), procedure, state)
  expect(odd(result, vector.place, vector.reading, vector.amount, vector.unit)).toBe(vector.question)
})

describe('a job of 500 readings on a slow phone', () => {
  const from = named('a bore judged by service limits')
  const halvern = engine('Halvern 2.9 V6')!
  // Limits and sizes are said of the engine that the case has; here they are said of the V6.
  const entries = JSON.parse(JSON.stringify(from.known).replaceAll(engine(from.engine_type)!.id, halvern.id)) as KnownEntry[]
  const readings: ReadingIn[] = ['as_found', 'machined', 'built'].flatMap((state) =>
    [1, 2, 3, 4, 5, 6].flatMap((cylinder) =>
      [1, 2, 3, 4].flatMap((repeat) =>
        from.readings.map((given, i) => ({
          ...given,
          id: `${state} ${cylinder} ${repeat} ${i}`,
          place: `bore/${cylinder}`,
          body: { ...given.body, state },
        })),
      ),
    ),
  )

  it('makes the sheet in hand without keeping anybody waiting', () => {
    expect(readings.length).toBeGreaterThan(500)
    const spent = Array.from({ length: 9 }, () => {
      const before = process.cpuUsage()
      const result = sheet(halvern, readings, known(entries), 'cylinder_bore', 'machined')
      expect(result.places.every((place) => place.done)).toBe(true)
      const { user, system } = process.cpuUsage(before)
      return (user + system) / 1000
    }).sort((a, b) => a - b)
    // Milliseconds of this machine's processor, where a slow phone takes about four times as long. Loose: others
    // may be at work here too.
    expect(spent[4]).toBeLessThan(100)
  })
})
