// A window of the record held in memory. Pure: pages come in, a new window comes out; numbers only grow downwards.

import { KINDS } from '../../../trade/record/kinds.ts'
import type { Item, Page } from '../../frame/shapes.ts'

export interface Held {
  items: Item[]
  /** Where to go on towards earlier and later records; null at the end. */
  previous: number | null
  next: number | null
  total: number | null
}

export const EMPTY: Held = { items: [], previous: null, next: null, total: 0 }
/** Most records on the page at one time: a job with thousands scrolls as lightly as one with fifty. */
export const MOST = 240

export function fromPage(page: Page): Held {
  return { items: ascending(page.items), previous: page.previous, next: page.next, total: page.total }
}

function ascending(items: Item[]): Item[] {
  return [...items].sort((a, b) => a.position - b.position)
}

/** Later records are added below; what no longer fits falls off the top and can be loaded again. */
export function addLater(window: Held, page: Page): Held {
  const known = new Set(window.items.map((item) => item.id))
  const items = [...window.items, ...ascending(page.items).filter((item) => !known.has(item.id))]
  const dropped = Math.max(0, items.length - MOST)
  const shown = items.slice(dropped)
  return {
    items: shown,
    previous: dropped ? shown[0]!.exhibit : window.previous,
    next: page.next,
    total: page.total,
  }
}

/** Earlier records are added above; what no longer fits falls off the foot. */
export function addEarlier(window: Held, page: Page): Held {
  const known = new Set(window.items.map((item) => item.id))
  const items = [...ascending(page.items).filter((item) => !known.has(item.id)), ...window.items]
  const shown = items.slice(0, MOST)
  return {
    items: shown,
    previous: page.previous,
    next: shown.length < items.length ? shown.at(-1)!.exhibit : window.next,
    total: page.total,
  }
}

/** The same window with newer words for records already on it (corrected, withdrawn, picture arrived). */
export function refreshed(window: Held, newer: Item[]): Held {
  const byId = new Map(newer.map((item) => [item.id, item]))
  return { ...window, items: window.items.map((item) => byId.get(item.id) ?? item) }
}

/** Ids of the records that new ones are about. */
export function targets(items: Item[]): string[] {
  const ids = items.flatMap((item) => {
    const named = KINDS[item.kind]?.about ? item.body['entry'] : item.body['spoken']
    return typeof named === 'string' && named ? [named] : []
  })
  return [...new Set(ids)]
}
