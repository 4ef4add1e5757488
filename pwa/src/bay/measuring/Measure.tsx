import { useMemo } from 'preact/hooks'
import { Tally } from '../../parts/controls/Tally.tsx'
import { type Job, known, readingsOf } from '../../store/index.ts'
import { proceduresFor } from '../../trade/measuring/known.ts'
import { PARTS } from '../../trade/engine/parts.ts'
import type { ReadingIn } from '../../trade/sheets/types.ts'
import { Act, BackAct, Screen } from '../frame/Frame.tsx'
import { SpokenMeasure, SpokenReadingActs, SpokenReadingMessage, useSpokenReading } from './SpokenMeasure.tsx'
import { TalkAct } from '../speaking/SpokenPanel.tsx'
import { nameOfPlace, placesOf, togetherWith } from '../frame/places.ts'
import { open } from '../frame/route.ts'
import { useStored } from '../frame/useStored.ts'
import { useType, useWhere } from '../frame/useJob.ts'
import { capital } from '../frame/words.ts'
import { say } from '../frame/say.ts'

interface Offered {
  code: string
  name: string
  part: string
}

/** What can be measured: the procedures of the part in hand first, then of what lies with it, then of the whole engine. */
export function Measure({ job }: { job: Job }) {
  const at = useWhere(job)
  const type = useType(job)
  const workshop = known.value
  const readings = useStored<ReadingIn[]>([], () => readingsOf(job.id), [job.id])
  const part = at.place.split('/')[0] ?? ''
  const [here, near, rest] = useMemo(() => {
    const parts = type ? [...new Set(placesOf(type).map((p) => p.part))] : []
    const beside = new Set(type && at.place ? togetherWith(type, at.place).map((p) => p.part) : [])
    const of = (wanted: (part: string) => boolean): Offered[] => parts.filter(wanted).flatMap((code) => proceduresFor(workshop, type as never, code) as Offered[])
    return [of((code) => code === part), of((code) => code !== part && beside.has(code)), of((code) => code !== part && !beside.has(code))]
  }, [type, workshop, part, at.place])
  const spoken = useSpokenReading(job, type, '')
  const taken = (code: string) => readings.filter((r) => r.body.procedure === code).length
  const row = ({ code, name }: Offered) => (
    <li key={code}>
      <button type="button" onClick={() => open('grid', job.id, code)}>
        <span>{capital(name)}</span>
        <Tally count={taken(code)} of="readings" />
      </button>
    </li>
  )
  return (
    <Screen
      title={say('measure.title_at', { place: nameOfPlace(job, at.place) })}
      job={job}
      under={<SpokenMeasure spoken={spoken} />}
      acts={
        <>
          {spoken.phase === 'proposed' ? <SpokenReadingActs spoken={spoken} /> : <MeasureActs job={job} />}
          <TalkAct spoken={spoken} />
        </>
      }
    >
      <SpokenReadingMessage spoken={spoken} />
      {!type && <p>{say('measure.no_type')}</p>}
      {here.length > 0 && <ul class="stack procedures">{here.map(row)}</ul>}
      {near.length > 0 && <h2>{say('measure.same_place')}</h2>}
      {near.length > 0 && <ul class="stack procedures is-near">{near.map(row)}</ul>}
      {rest.length > 0 && (
        <details class="place-group" open={here.length + near.length === 0}>
          <summary>{say('measure.elsewhere')}</summary>
          <ul class="stack procedures is-near">
            {rest.map((offered) => row({ ...offered, name: say('measure.of_part', { measurement: offered.name, part: PARTS[offered.part]?.name ?? offered.part }) }))}
          </ul>
        </details>
      )}
    </Screen>
  )
}

function MeasureActs({ job }: { job: Job }) {
  return (
    <>
      <BackAct />
      <Act name={say('reading.one')} main onAct={() => open('reading', job.id)} />
    </>
  )
}
