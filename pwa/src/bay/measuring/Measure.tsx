import { useMemo } from 'preact/hooks'
import { Tally } from '../../parts/controls/Tally.tsx'
import { type Job, known, readingsOf } from '../../store/index.ts'
import { proceduresFor } from '../../trade/measuring/known.ts'
import { PARTS } from '../../trade/engine/parts.ts'
import type { ReadingIn } from '../../trade/sheets/types.ts'
import { Act, BackAct, Screen } from '../frame/Frame.tsx'
import { SpokenMeasure, SpokenReadingActs, SpokenReadingTold, useSpokenReading } from './SpokenMeasure.tsx'
import { TalkAct } from '../speaking/SpokenPanel.tsx'
import { nameOfPlace, placesOf, togetherWith } from '../frame/places.ts'
import { open } from '../frame/route.ts'
import { useAsked } from '../frame/useAsked.ts'
import { useType, useWhere } from '../frame/useJob.ts'
import { capital } from '../frame/words.ts'

interface Offered {
  code: string
  name: string
  part: string
}

/** What can be measured: the procedures of the part in hand first, then of what lies with it, then of the whole engine. */
export function Measure({ job }: { job: Job }) {
  const at = useWhere(job)
  const type = useType(job)
  const says = known.value
  const readings = useAsked<ReadingIn[]>([], () => readingsOf(job.id), [job.id])
  const part = at.place.split('/')[0] ?? ''
  const [here, near, rest] = useMemo(() => {
    const parts = type ? [...new Set(placesOf(type).map((p) => p.part))] : []
    const beside = new Set(type && at.place ? togetherWith(type, at.place).map((p) => p.part) : [])
    const of = (wanted: (one: string) => boolean): Offered[] => parts.filter(wanted).flatMap((one) => proceduresFor(says, type as never, one) as Offered[])
    return [of((one) => one === part), of((one) => one !== part && beside.has(one)), of((one) => one !== part && !beside.has(one))]
  }, [type, says, part, at.place])
  const spoken = useSpokenReading(job, type, '')
  const taken = (code: string) => readings.filter((r) => r.body.procedure === code).length
  const row = (one: Offered) => (
    <li key={one.code}>
      <button type="button" onClick={() => open('grid', job.id, one.code)}>
        <span>{capital(one.name)}</span>
        <Tally count={taken(one.code)} of="readings" />
      </button>
    </li>
  )
  return (
    <Screen
      title={`Measure, ${nameOfPlace(job, at.place)}`}
      job={job}
      under={<SpokenMeasure spoken={spoken} />}
      acts={
        <>
          {spoken.phase === 'proposed' ? <SpokenReadingActs spoken={spoken} /> : <MeasureActs job={job} />}
          <TalkAct spoken={spoken} />
        </>
      }
    >
      <SpokenReadingTold spoken={spoken} />
      {!type && <p>The engine type of this job has not reached this phone: single readings can be taken all the same.</p>}
      {here.length > 0 && <ul class="procedures">{here.map(row)}</ul>}
      {near.length > 0 && <h2>At the same place</h2>}
      {near.length > 0 && <ul class="procedures is-near">{near.map(row)}</ul>}
      {rest.length > 0 && (
        <details class="place-group" open={here.length + near.length === 0}>
          <summary>Elsewhere on the engine</summary>
          <ul class="procedures is-near">{rest.map((one) => row({ ...one, name: `${one.name}, ${PARTS[one.part]?.name ?? one.part}` }))}</ul>
        </details>
      )}
    </Screen>
  )
}

function MeasureActs({ job }: { job: Job }) {
  return (
    <>
      <BackAct />
      <Act name="One reading" main onAct={() => open('reading', job.id)} />
    </>
  )
}
