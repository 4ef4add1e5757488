import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import { beside, placeName, places, related } from './locations.ts'
import type { EngineType } from './parts.ts'
import { findPlaces } from './typed_places.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/places.json', import.meta.url), 'utf8'))
const all = engines.engine_types as unknown as EngineType[]
const engine = (name: string) => all.find((one) => one.name === name)!

describe('places are the same on the phone and on the server', () => {
  it.each<{ engine_type: string; places: unknown[] }>(vectors.engines)('places of the $engine_type', (one) => {
    const found = places(engine(one.engine_type)).map((p) => [
      p.code, p.name, p.iso, p.bank, p.cylinder, p.crankpin, p.main, p.camshaft,
    ])
    expect(found).toEqual(one.places)
  })

  it.each<{ engine_type: string; code: string; related: string[] }>(vectors.related)(
    'what touches $code of the $engine_type',
    (one) => expect(related(engine(one.engine_type), one.code)).toEqual(one.related),
  )

  it.each<{ engine_type: string; code: string; part: string; beside: string }>(vectors.beside)(
    'the $part that goes with $code of the $engine_type',
    (one) => expect(beside(engine(one.engine_type), one.code, one.part)).toBe(one.beside),
  )

  it.each<{ engine_type: string; typed: string; offered: string[] }>(vectors.typed)(
    '"$typed" on the $engine_type',
    (one) => {
      expect(findPlaces(engine(one.engine_type), one.typed).map((p) => p.code).slice(0, 6)).toEqual(one.offered)
    },
  )

  it.each<{ code: string; name: string }>(vectors.names_without_engine)('"$code" before its engine is known', (one) => {
    expect(placeName(null, one.code)).toBe(one.name)
  })

  it.each(all)('a place that is typed by its name is that place: $name', (one) => {
    for (const place of places(one)) expect(findPlaces(one, place.name)[0]?.code).toBe(place.code)
  })
})
