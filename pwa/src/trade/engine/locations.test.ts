import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import engines from '../../../../server/witnessmark/trade/data/invented_engine_types.json'
import { beside, placeName, places, related } from './locations.ts'
import type { EngineType } from './parts.ts'
import { findPlaces } from './typed_places.ts'

const vectors = JSON.parse(readFileSync(new URL('../../../../tests/vectors/places.json', import.meta.url), 'utf8'))
const all = engines.engine_types as unknown as EngineType[]
const engine = (name: string) => all.find((engineType) => engineType.name === name)!

describe('places are the same on the phone and on the server', () => {
  it.each<{ engine_type: string; places: unknown[] }>(vectors.engines)('places of the $engine_type', (vector) => {
    const rows = places(engine(vector.engine_type)).map((p) => [
      p.code, p.name, p.iso, p.bank, p.cylinder, p.crankpin, p.main, p.camshaft,
    ])
    expect(rows).toEqual(vector.places)
  })

  it.each<{ engine_type: string; code: string; related: string[] }>(vectors.related)(
    'what touches $code of the $engine_type',
    (vector) => expect(related(engine(vector.engine_type), vector.code)).toEqual(vector.related),
  )

  it.each<{ engine_type: string; code: string; part: string; beside: string }>(vectors.beside)(
    'the $part that goes with $code of the $engine_type',
    (vector) => expect(beside(engine(vector.engine_type), vector.code, vector.part)).toBe(vector.beside),
  )

  it.each<{ engine_type: string; typed: string; offered: string[] }>(vectors.typed)(
    '"$typed" on the $engine_type',
    (vector) => {
      expect(findPlaces(engine(vector.engine_type), vector.typed).map((p) => p.code).slice(0, 6)).toEqual(vector.offered)
    },
  )

  it.each<{ code: string; name: string }>(vectors.names_without_engine)('"$code" before its engine is known', (vector) => {
    expect(placeName(null, vector.code)).toBe(vector.name)
  })

  it.each(all)('a place that is typed by its name is that place: $name', (engineType) => {
    for (const place of places(engineType)) expect(findPlaces(engineType, place.name)[0]?.code).toBe(place.code)
  })
})
