import { address } from '../frame/route.ts'
import { QueryMark } from '../recording/Stamp.tsx'
import type { SpokenItem } from './shapes.ts'
import { differWords } from './words.ts'
import type { Questioned } from '../frame/shapes.ts'

interface Props {
  item: SpokenItem
  correct: (id: string) => void
}

/** What was recorded from the sound, beside what a recogniser made of it, as a table of revisions on a drawing. */
export function Beside({ item, correct }: Props) {
  const asked = item.spoken.query?.records ?? []
  const settled = (item.spoken.records).filter(({ id }) => !asked.some((one) => one.id === id))
  if (!asked.length && !settled.length) return null
  return (
    <section class="spoken-beside" aria-labelledby="beside-title">
      <h3 id="beside-title">Recorded from it</h3>
      {asked.map((one) => (
        <Asked key={one.id} item={item} record={one} correct={() => correct(one.id)} />
      ))}
      {settled.map(({ id, exhibit, said }) => (
        <p key={id} class="settled">
          <ExhibitLink item={item} exhibit={exhibit} /> {said}
        </p>
      ))}
    </section>
  )
}

function Asked({ item, record, correct }: { item: SpokenItem; record: Questioned; correct: () => void }) {
  return (
    <div class="asked">
      <p class="asked-head">
        <QueryMark words={differWords(record.parts)} />
      </p>
      <dl>
        <div>
          <dt>
            recorded <ExhibitLink item={item} exhibit={record.exhibit} />
          </dt>
          <dd>{record.recorded}</dd>
        </div>
        <div>
          <dt>heard</dt>
          <dd>{record.heard}</dd>
        </div>
      </dl>
      <p class="asked-words">
        Nothing was changed. Listen, then say which it is: confirm or write what is said, or correct the record.
      </p>
      <button type="button" onClick={correct}>
        Correct the record
      </button>
    </div>
  )
}

function ExhibitLink({ item, exhibit }: { item: SpokenItem; exhibit: number | null | undefined }) {
  if (!exhibit || !item.job) return null
  return (
    <a class="figure" href={address(['job', item.job.id], { exhibit: String(exhibit) })} aria-label={`Exhibit ${exhibit}`}>
      {exhibit}
    </a>
  )
}
