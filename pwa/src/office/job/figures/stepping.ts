// The arrow keys on a sheet: from place to place, and up and down over what can be opened in one.

import type { Sheet } from '../../../trade/sheets/types.ts'
import { route, set } from '../../frame/route.ts'

function columnOf(place: string): HTMLElement | null {
  return document.querySelector<HTMLElement>(`[data-place="${CSS.escape(place)}"]`)
}

/** Goes to the neighbouring place and stays at the ends. */
export function nextPlace(sheet: Sheet, by: 1 | -1): void {
  const codes = sheet.places.map(({ place }) => place)
  const now = codes.indexOf(route.value.values['place'] ?? '')
  const next = codes[now < 0 ? (by > 0 ? 0 : codes.length - 1) : Math.min(codes.length - 1, Math.max(0, now + by))]
  if (!next) return
  set({ place: next }, true)
  const element = columnOf(next)
  element?.scrollIntoView({ block: 'nearest', inline: 'nearest' })
  element?.focus({ preventScroll: true })
}

/** The next reading or figure of the place that has the focus. */
export function stepInPlace(by: 1 | -1): void {
  const place = columnOf(route.value.values['place'] ?? '') ?? document.querySelector<HTMLElement>('[data-place]')
  const all = [...(place?.querySelectorAll<HTMLElement>('a, button') ?? [])]
  const now = all.indexOf(document.activeElement as HTMLElement)
  all[now < 0 ? (by > 0 ? 0 : all.length - 1) : Math.min(all.length - 1, Math.max(0, now + by))]?.focus()
}
