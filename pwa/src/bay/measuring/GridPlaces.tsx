import { useEffect, useRef } from 'preact/hooks'
import type { Sheet, SheetPlace } from '../../trade/sheets/types.ts'
import { NO_LIMIT, standingOf, tallied } from './grid.ts'
import { say } from '../frame/say.ts'

/** All places of the engine in one row, each with a stroke for every reading taken: a whole row is measured from here. */
export function GridPlaces({ sheet, shown, onPick }: { sheet: Sheet; shown: string; onPick: (place: string) => void }) {
  const row = useRef<HTMLDivElement>(null)
  useEffect(() => {
    const button = row.current?.querySelector<HTMLElement>('[aria-pressed="true"]')
    if (row.current && button) row.current.scrollLeft = button.offsetLeft - (row.current.clientWidth - button.offsetWidth) / 2
  }, [shown, sheet.places.length])
  if (sheet.places.length < 2) return null
  const short = shortNames(sheet.places)
  return (
    <div class="grid-places slides keeps line-under" role="group" aria-label={say('grid.places')} ref={row}>
      {sheet.places.map((place, i) => (
        <button class="column ring-inside" key={place.place} type="button" aria-pressed={place.place === shown} onClick={() => onPick(place.place)}>
          <span class="unseen">{nameFor(sheet, place)}</span>
          <span class="one-line" aria-hidden="true">
            {short[i]}
          </span>
          <Strokes sheet={sheet} place={place} />
        </button>
      ))}
    </div>
  )
}

/** 'bore/3' as 3, 'valve/5/inlet/1' as 5 in: what sets a place apart from its neighbours, and no more. */
function shortNames(places: SheetPlace[]): string[] {
  const parts = places.map((p) => p.place.split('/').slice(1))
  const differs = (parts[0] ?? []).map((_, i) => parts.some((indices) => indices[i] !== parts[0]![i]))
  return parts.map((indices) => indices.filter((_, i) => differs[i]).map((part) => (part.length > 2 ? part.slice(0, 2) : part)).join(' '))
}

function nameFor(sheet: Sheet, place: SheetPlace): string {
  const { taken, needed, done } = tallied(sheet, place)
  const far = done ? say('grid.done') : taken ? say('grid.taken', { taken, needed }) : say('grid.nothing_read')
  const standing = done ? standingOf(place) : NO_LIMIT
  return [place.name, needed ? far : say('grid.no_readings'), standing in STANDINGS && say(STANDINGS[standing as keyof typeof STANDINGS])].filter(Boolean).join(', ')
}

const STANDINGS = { within: 'grid.within', outside: 'grid.outside', 'not proven': 'grid.not_proven' } as const

const WIDE = 46
const MOST = 12

/** A stroke for each reading, tall once it is taken; a line under them when the place is done, doubled when outside its limits. */
function Strokes({ sheet, place }: { sheet: Sheet; place: SheetPlace }) {
  const { taken, needed, done } = tallied(sheet, place)
  const n = Math.min(needed, MOST)
  const step = Math.min(8, WIDE / Math.max(1, n))
  const left = (WIDE - step * (n - 1)) / 2
  const tall = needed ? Math.round((taken * n) / needed) : 0
  const outside = done && standingOf(place) === 'outside'
  return (
    <svg class="grid-strokes" width={WIDE} height="18" viewBox={`0 0 ${WIDE} 18`} aria-hidden="true">
      {Array.from({ length: n }, (_, i) => (
        <path key={i} class={`hollow${i < tall ? ' is-taken' : ''}`} d={i < tall ? `M${left + i * step} 1v11` : `M${left + i * step} 9v3`} />
      ))}
      {done && <path class="is-taken hollow" d={`M3 ${outside ? 14 : 15}H${WIDE - 3}`} />}
      {outside && <path class="is-taken hollow" d={`M3 17.2H${WIDE - 3}`} />}
    </svg>
  )
}
