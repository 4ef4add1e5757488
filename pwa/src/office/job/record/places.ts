// Places of the open job's engine: their names, their mating parts, all of them in the order of the engine.

import { computed } from '@preact/signals'
import { placeName as nameIn, places, related } from '../../../trade/engine/locations.ts'
import { job } from './state.ts'

const engine = computed(() => job.value?.engine_type_data ?? null)

export function placeName(code: string): string {
  return nameIn(engine.value, code)
}

/** Codes of the mating parts of a place. */
export function touching(code: string): string[] {
  return engine.value ? related(engine.value, code) : []
}

/** Every place of the engine, by code. */
export const allPlaces = computed<string[]>(() => (engine.value ? places(engine.value).map((place) => place.code) : []))
