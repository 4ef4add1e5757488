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
import { useStored } from '../frame/useStored.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { capital } from '../frame/words.ts'
import { say } from '../frame/say.ts'
import './places.css'

const MOST = 60

/** Every place of the engine in a list, found by typing: bore 3, wrist pin 2, head bolt A7. */
export function Places({ job }: { job: Job }) {
  const type = useType(job)
  const at = useWhere(job)
  const [typed, setTyped] = useState('')
  const sums = useStored<Record<string, number>>({}, () => tallies(job.id), [job.id])
  const matches = useMemo(() => (type && typed.trim() ? findPlaces(type as never, typed) : null), [type, typed])
  const groups = useMemo(() => (type ? grouped(placesOf(type)) : []), [type])
  const choose = (code: string) => {
    goTo(job, code)
    instead('bench', job.id)
  }
  const row = (place: Place) => (
    <li key={place.code}>
      <button class="flat ends whole" type="button" aria-pressed={place.code === at.place} onClick={() => choose(place.code)}>
        <span>{capital(place.name)}</span> <Tally count={sums[place.code] ?? 0} />
      </button>
    </li>
  )
  return (
    <Screen title={say('places.title')} job={job} acts={<BackAct />}>
      <Field
        label={say('places.type')}
        value={typed}
        onValue={setTyped}
        keys="search"
        hint={say('places.type_hint')}
      />
      <ul class="place-list">
        <li>
          <button class="flat ends whole" type="button" aria-pressed={at.place === ''} onClick={() => choose('')}>
            <span>{capital(say('place.whole_job'))}</span>
          </button>
        </li>
        {matches?.slice(0, MOST).map(row)}
      </ul>
      {matches?.length === 0 && (
        <p>
          {say('places.none')} {at.place && say('places.still_at', { place: nameOfPlace(job, at.place, at.point) })}
        </p>
      )}
      {matches && matches.length > MOST && <p class="soft">{say('places.more', { count: matches.length - MOST })}</p>}
      {!matches &&
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
      {!type && <p>{say('places.no_type')}</p>}
    </Screen>
  )
}

function grouped(all: Place[]): { part: string; places: Place[] }[] {
  const groups = new Map<string, Place[]>()
  for (const place of all) groups.set(place.part, [...(groups.get(place.part) ?? []), place])
  return [...groups].map(([part, places]) => ({ part, places }))
}
