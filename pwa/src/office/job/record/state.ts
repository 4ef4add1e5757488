// The open job: its details, the window of its record, the record in hand, and what arrived meanwhile.

import { computed, effect, signal, untracked } from '@preact/signals'
import { get, query, ApiError } from '../../frame/api.ts'
import { also } from '../../frame/SearchBox.tsx'
import { route, set } from '../../frame/route.ts'
import type { Item, Job, Page } from '../../frame/shapes.ts'
import { filterQuery, filtersOf, isFiltered } from './filters.ts'
import { picture } from '../../frame/picture.ts'
import { addEarlier, addLater, EMPTY, fromPage, refreshed, targets, type Held } from './window.ts'

const PAGE = 50
const LIVE_EVERY_MS = 2000
const MISSING_EVERY_MS = 7000
/** Beyond the number of any record: the page around it is the last one. */
const END = 2_000_000_000

export const job = signal<Job | null>(null)
export const jobTrouble = signal<ApiError | null>(null)
export const held = signal<Held>(EMPTY)
export const loading = signal<'' | 'page' | 'earlier' | 'later'>('')
export const recordTrouble = signal('')
/** Records that arrived below while the reader was further up. */
export const fresh = signal(0)
/** Grows whenever the window was loaded from the start: the timeline then scrolls to what is chosen. */
export const turn = signal(0)

export const filters = computed(() => filtersOf(route.value.values))
const filterKey = computed(() => JSON.stringify(filters.value))
export const filtered = computed(() => isFiltered(filters.value))

export const chosen = computed<Item | null>(() => {
  const items = held.value.items
  const wanted = Number(route.value.values['exhibit'])
  if (wanted) return items.find((item) => item.exhibit === wanted) ?? null
  return items.findLast((item) => picture(item)) ?? items.at(-1) ?? null
})

let openedId: string | null = null
let livePosition = 0

/** Opens a job (null: none) and polls for news of it; returns the function that stops polling. */
export function openJob(id: string | null): () => void {
  openedId = id
  livePosition = 0
  job.value = null
  jobTrouble.value = null
  held.value = EMPTY
  fresh.value = 0
  if (!id) return () => undefined
  void lookAtJob()
  const stop = effect(() => {
    void filterKey.value
    untracked(() => void load(id))
  })
  const live = setInterval(() => document.visibilityState === 'visible' && void poll(id), LIVE_EVERY_MS)
  const missing = setInterval(() => document.visibilityState === 'visible' && void lookForMissing(id), MISSING_EVERY_MS)
  return () => {
    openedId = null
    stop()
    clearInterval(live)
    clearInterval(missing)
  }
}

/** The facts of the open job again. */
export async function lookAtJob(): Promise<void> {
  const id = openedId
  if (!id) return
  try {
    const facts = await get<Job>(`/api/jobs/${id}`)
    if (openedId !== id) return
    job.value = facts
    jobTrouble.value = null
  } catch (reason) {
    if (reason instanceof ApiError && !job.value) jobTrouble.value = reason
  }
}

function timeline(id: string, cursor: Record<string, number>, limit = PAGE): Promise<Page> {
  return get<Page>(`/api/jobs/${id}/timeline${query({ ...filterQuery(filters.value), ...cursor, limit })}`)
}

async function load(id: string): Promise<void> {
  const wanted = Number(route.value.values['exhibit'])
  const key = filterKey.value
  loading.value = 'page'
  try {
    const page = await timeline(id, { around: wanted || END }, 2 * PAGE)
    if (openedId !== id || filterKey.value !== key) return
    held.value = fromPage(page)
    also.value = page.also ?? []
    fresh.value = 0
    // What lies beyond the part that is held is not new: then the server says where new begins.
    if (held.value.next === null) livePosition = Math.max(livePosition, ...held.value.items.map((item) => item.position))
    recordTrouble.value = ''
    turn.value += 1
  } catch (reason) {
    if (openedId === id && reason instanceof ApiError) recordTrouble.value = reason.message
  } finally {
    if (filterKey.value === key) loading.value = ''
  }
}

/** The page before or after what is held. */
export async function more(way: 'earlier' | 'later'): Promise<void> {
  const id = openedId
  const from = way === 'earlier' ? held.value.previous : held.value.next
  if (!id || from === null || loading.value) return
  const key = filterKey.value
  loading.value = way
  try {
    const page = await timeline(id, way === 'earlier' ? { before: from } : { after: from })
    if (openedId !== id || filterKey.value !== key) return
    held.value = way === 'earlier' ? addEarlier(held.value, page) : addLater(held.value, page)
    recordTrouble.value = ''
  } catch (reason) {
    if (reason instanceof ApiError) recordTrouble.value = reason.message
  } finally {
    loading.value = ''
  }
}

/** Jumps to the first or the last record. */
export async function jump(to: 'first' | 'last'): Promise<void> {
  const id = openedId
  if (!id) return
  const page = await timeline(id, to === 'first' ? { after: 0 } : { around: END }, 2 * PAGE).catch(() => null)
  if (!page || openedId !== id) return
  held.value = fromPage(page)
  fresh.value = 0
  const item = to === 'first' ? held.value.items[0] : held.value.items.at(-1)
  if (item) choose(item)
  turn.value += 1
}

export function choose(item: Item): void {
  set({ exhibit: String(item.exhibit) }, true)
}

/** The neighbour of the chosen record, loading more when the window ends there. */
export async function step(by: 1 | -1): Promise<Item | null> {
  const index = held.value.items.findIndex((item) => item.id === chosen.value?.id)
  if (index < 0 && held.value.items.length) choose(held.value.items[0]!)
  if (!held.value.items[index + by]) await more(by > 0 ? 'later' : 'earlier')
  const now = held.value.items.findIndex((item) => item.id === chosen.value?.id)
  const next = held.value.items[now + by]
  if (next) choose(next)
  return next ?? null
}

async function poll(id: string): Promise<void> {
  const live = await get<{ position: number; items: Item[] }>(
    `/api/live${query({ job: id, after: livePosition || undefined })}`,
  ).catch(() => null)
  if (!live || openedId !== id) return
  const first = livePosition === 0
  livePosition = Math.max(livePosition, live.position)
  if (first || live.items.length === 0) return
  await applyNew(id, live.items)
}

/** New records: the ones they are about are fetched again, and the new ones are added at the foot of the record. */
async function applyNew(id: string, items: Item[]): Promise<void> {
  void lookAtJob()
  const about = targets(items).filter((target) => held.value.items.some((item) => item.id === target))
  const corrected = await Promise.all(about.map((target) => get<Item>(`/api/entries/${target}`).catch(() => null)))
  if (openedId !== id) return
  held.value = refreshed(
    held.value,
    corrected.filter((item): item is Item => item !== null),
  )
  if (held.value.next !== null) {
    if (!filtered.value) fresh.value += items.length
    return
  }
  const last = held.value.items.at(-1)
  const before = held.value.items.length
  const page = await timeline(id, { after: last?.exhibit ?? 0 }).catch(() => null)
  if (!page || openedId !== id) return
  // What was read stays chosen: without a choice in the address the newest picture would jump in.
  if (chosen.value && !route.value.values['exhibit']) choose(chosen.value)
  held.value = addLater(held.value, page)
  fresh.value += Math.max(0, held.value.items.length - before)
}

/** Called after the desk added something: it is shown at once. */
export async function added(item: Item): Promise<void> {
  if (!openedId) return
  livePosition = Math.max(livePosition, item.position)
  await applyNew(openedId, [item])
}

/** Fetches records again whose pictures had not arrived. */
async function lookForMissing(id: string): Promise<void> {
  const waiting = held.value.items.find((item) => item.media.some((medium) => !medium.here))
  if (!waiting?.exhibit) return
  const page = await timeline(id, { after: waiting.exhibit - 1 }).catch(() => null)
  if (page && openedId === id) held.value = refreshed(held.value, page.items)
}
