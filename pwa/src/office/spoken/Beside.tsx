import { address } from '../frame/route.ts'
import { QueryMark } from '../recording/Stamp.tsx'
import type { SpokenItem } from './shapes.ts'
import { differWords } from './words.ts'
import type { Questioned } from '../frame/shapes.ts'
import { say } from '../frame/say.ts'

interface Props {
  item: SpokenItem
  correct: (id: string) => void
}

/** The records made from a recording; where a recogniser heard it otherwise, both stand side by side. */
export function Beside({ item, correct }: Props) {
  const queried = item.spoken.query?.records ?? []
  const settled = item.spoken.records.filter(({ id }) => !queried.some((record) => record.id === id))
  if (!queried.length && !settled.length) return null
  return (
    <section class="spoken-beside" aria-labelledby="beside-title">
      <h3 id="beside-title">{say('spoken.records_from_it')}</h3>
      {queried.map((record) => (
        <Query key={record.id} item={item} record={record} correct={() => correct(record.id)} />
      ))}
      {settled.map(({ id, exhibit, said: words }) => (
        <p key={id} class="settled">
          <ExhibitLink item={item} exhibit={exhibit} /> {words}
        </p>
      ))}
    </section>
  )
}

/** A record and what was heard instead, to be decided by a person. */
function Query({ item, record, correct }: { item: SpokenItem; record: Questioned; correct: () => void }) {
  return (
    <div class="asked">
      <p class="asked-head washed">
        <QueryMark words={differWords(record.parts)} />
      </p>
      <dl>
        <div>
          <dt class="soft small">
            {say('spoken.recorded')} <ExhibitLink item={item} exhibit={record.exhibit} />
          </dt>
          <dd class="bold large">{record.recorded}</dd>
        </div>
        <div>
          <dt class="soft small">{say('spoken.heard')}</dt>
          <dd class="bold large">{record.heard}</dd>
        </div>
      </dl>
      <p class="asked-words">{say('spoken.query_help')}</p>
      <button type="button" onClick={correct}>
        {say('spoken.correct_record')}
      </button>
    </div>
  )
}

function ExhibitLink({ item, exhibit }: { item: SpokenItem; exhibit: number | null | undefined }) {
  if (!exhibit || !item.job) return null
  return (
    <a class="figure" href={address(['job', item.job.id], { exhibit: String(exhibit) })} aria-label={say('spoken.record', { number: String(exhibit) })}>
      {exhibit}
    </a>
  )
}
