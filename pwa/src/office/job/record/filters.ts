// The record's filters. They stand in the address, so a filtered record can be sent to a colleague and gone back to.

import { route, set } from '../../frame/route.ts'

export const FILTERS = ['place', 'kind', 'person', 'stage', 'from', 'to', 'q'] as const
export type FilterName = (typeof FILTERS)[number]

export interface Filters {
  place?: string
  /** '1' leaves out the mating parts of the place. */
  only?: string
  kind?: string
  person?: string
  stage?: string
  from?: string
  to?: string
  q?: string
}

export function filtersOf(values: Record<string, string>): Filters {
  const known = Object.entries(values).filter(([name, v]) => v && ([...FILTERS, 'only'] as string[]).includes(name))
  return Object.fromEntries(known)
}

/** The query values the server knows. */
export function filterQuery(filters: Filters): Record<string, string | undefined> {
  const { only, ...rest } = filters
  return { ...rest, related: filters.place && !only ? '1' : undefined }
}

export function isFiltered(filters: Filters): boolean {
  return FILTERS.some((name) => filters[name])
}

/** Sets or, with the same value again, takes away one filter. */
export function toggle(name: FilterName, value: string): void {
  const had = route.value.values[name] === value
  set({ [name]: had ? undefined : value, only: undefined, exhibit: undefined })
}

export function takeOff(name: FilterName): void {
  set({ [name]: undefined, ...(name === 'place' ? { only: undefined } : {}), exhibit: undefined })
}

export function takeAllOff(): void {
  set({ ...Object.fromEntries(FILTERS.map((name) => [name, undefined])), only: undefined, exhibit: undefined })
}
