import { useMemo, useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { Tally } from '../../parts/controls/Tally.tsx'
import { type Job, tallies } from '../../store/index.ts'
import { PARTS } from '../../trade/engine/parts.ts'
import type { Place } from '../../trade/engine/locations.ts'
import { findPlaces } from '../../trade/engine/typed_places.ts'
import { BackAct, Screen } from '../frame/Frame.tsx'
import { nameOfPlace, placesOf } from '../frame/places.ts'
import { instead } from '../frame/route.ts'
import { useAsked } from '../frame/useAsked.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { capital } from '../frame/words.ts'

const MOST = 60

/** Every place of the engine in a list, found by typing: bore 3, wrist pin 2, head bolt A7. */
export function Places({ job }: { job: Job }) {
  const type = useType(job)
  const at = useWhere(job)
  const [typed, setTyped] = useState('')
  const sums = useAsked<Record<string, number>>({}, () => tallies(job.id), [job.id])
  const found = useMemo(() => (type && typed.trim() ? findPlaces(type as never, typed) : null), [type, typed])
  const groups = useMemo(() => (type ? grouped(placesOf(type)) : []), [type])
  const choose = (code: string) => {
    goTo(job, code)
    instead('bench', job.id)
  }
  const row = (place: Place) => (
    <li key={place.code}>
      <button type="button" aria-pressed={place.code === at.place} onClick={() => choose(place.code)}>
        <span>{capital(place.name)}</span> <Tally count={sums[place.code] ?? 0} />
      </button>
    </li>
  )
  return (
    <Screen title="Where on the engine" job={job} acts={<BackAct />}>
      <Field
        label="Type a place"
        value={typed}
        onValue={setTyped}
        keys="search"
        hint="bore 3 · wrist pin 2 · valve 5 inlet · head bolt a7"
      />
      <ul class="place-list">
        <li>
          <button type="button" aria-pressed={at.place === ''} onClick={() => choose('')}>
            <span>The job itself</span>
          </button>
        </li>
        {found?.slice(0, MOST).map(row)}
      </ul>
      {found?.length === 0 && <p>This engine has no place of that name. {at.place ? `Still at ${nameOfPlace(job, at.place, at.point)}.` : ''}</p>}
      {found && found.length > MOST && <p class="soft">{found.length - MOST} more: type a number too.</p>}
      {!found &&
        groups.map(({ part, places }) =>
          places.length === 1 ? (
            <ul class="place-list" key={part}>
              {places.map(row)}
            </ul>
          ) : (
            <details class="place-group" key={part} open={at.place.startsWith(`${part}/`)}>
              <summary>
                {capital(PARTS[part]?.name ?? part)} <span class="soft">{places.length}</span>
              </summary>
              <ul class="place-list">{places.map(row)}</ul>
            </details>
          ),
        )}
      {!type && <p>The engine type of this job has not reached this phone. Records go to the job itself until it has.</p>}
    </Screen>
  )
}

function grouped(all: Place[]): { part: string; places: Place[] }[] {
  const groups = new Map<string, Place[]>()
  for (const place of all) groups.set(place.part, [...(groups.get(place.part) ?? []), place])
  return [...groups].map(([part, places]) => ({ part, places }))
}
