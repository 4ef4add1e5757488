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
const engine = (name: string | null) => all.find((one) => one.name === name) ?? null

interface Case {
  name: string
  engine_type: string | null
  known: KnownEntry[]
  readings: ReadingIn[]
  sheets: Sheet[]
}
const CASES: Case[] = written('sheets.json').cases
const named = (name: string) => CASES.find((one) => one.name === name)!
const gaugeId = (one: Case, name: string) =>
  Object.values(known(one.known).gauges).find((gauge) => gauge.data.name === name)?.data.id ?? name

describe('readings come to the same sheet on the phone and on the server', () => {
  it.each(CASES)('in whatever order the readings come: $name', (one) => {
    for (const wanted of one.sheets) {
      const turned = [...one.readings].reverse()
      for (const readings of [one.readings, turned]) {
        const found = sheet(engine(one.engine_type), readings, known(one.known), wanted.procedure, wanted.state)
        // Text for text: through JSON, as the server gives it.
        expect(JSON.parse(JSON.stringify(found))).toEqual(wanted)
      }
    }
  })

  it('a blank sheet asks for everything and claims nothing', () => {
    const one = named('a bore judged by service limits')
    const found = sheet(engine(one.engine_type), [], known(one.known), 'cylinder_bore', 'as_found')
    expect(found.places.map((place) => [place.done, place.missing.length, place.readings])).toEqual([[false, 6, {}]])
    expect(found.places[0]!.figures.every((figure) => figure.value === null)).toBe(true)
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
  it.each<Asked>(written('known.json').basis)('basis of $procedure at $place in "$case"', (one) => {
    const from = named(one.case)
    const id = engine(from.engine_type)?.id ?? ''
    const found = basisFor(known(from.known), id, one.procedure, one.place, gaugeId(from, one.gauge), one.on)
    expect(found).toEqual(one.basis)
  })

  interface Gave {
    case: string
    basis: number[]
    gauge: string
    claimed: string
    due: string | null
  }
  it.each<Gave>(written('known.json').gauges)('the gauge $gauge at $claimed by $basis', (one) => {
    const from = named(one.case)
    const basis = one.basis.map((index) => from.known[index]!.id)
    expect(gaugeOf(known(from.known), basis, gaugeId(from, one.gauge), one.claimed)?.due ?? null).toBe(one.due)
  })

  it.each<{ case: string; engine_type: string | null; part: string; codes: string[] }>(written('known.json').procedures)(
    'procedures for $part of the $engine_type',
    (one) => {
      const found = proceduresFor(known(named(one.case).known), engine(one.engine_type), one.part)
      expect(found.map((procedure) => procedure.code)).toEqual(one.codes)
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
it.each<Asking>(written('odd_reading.json').cases)('$amount $unit for $reading at $place in "$case"', (one) => {
  const from = named(one.case)
  const [procedure, state] = [one.procedure ?? 'cylinder_bore', one.state ?? 'as_found']
  const found = sheet(engine(from.engine_type), from.readings, known(from.known), procedure, state)
  expect(odd(found, one.place, one.reading, one.amount, one.unit)).toBe(one.question)
})

describe('a job of 500 readings on a slow phone', () => {
  const from = named('a bore judged by service limits')
  const halvern = engine('Halvern 2.9 V6')!
  // Limits and sizes are said of the engine that the case has; here they are said of the V6.
  const said = JSON.parse(JSON.stringify(from.known).replaceAll(engine(from.engine_type)!.id, halvern.id)) as KnownEntry[]
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
      const found = sheet(halvern, readings, known(said), 'cylinder_bore', 'machined')
      expect(found.places.every((place) => place.done)).toBe(true)
      const { user, system } = process.cpuUsage(before)
      return (user + system) / 1000
    }).sort((a, b) => a - b)
    // Milliseconds of this machine's processor, where a slow phone takes about four times as long. Loose: others
    // may be at work here too.
    expect(spent[4]).toBeLessThan(100)
  })
})
