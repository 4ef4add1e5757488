import { Cross } from '../../../parts/controls/icons.tsx'
import { address, set } from '../../frame/route.ts'
import { listed } from '../../frame/words.ts'
import { kindWords } from './kinds.ts'
import { takeAllOff, takeOff, type FilterName } from './filters.ts'
import { placeName, touching } from './places.ts'
import { STAGES, stageWords } from '../../frame/stages.ts'
import { filters, held, job } from './state.ts'
import { also } from '../../frame/SearchBox.tsx'
import { count, figure } from '../../frame/words.ts'

/** What the record is narrowed to, as plain words that can be taken off, and the means to narrow it further. */
export function Tags() {
  const now = filters.value
  const tags = tagsOf()
  return (
    <div class="tags">
      <p class="tags-count" role="status">
        {countWords(tags.length > 0)}
      </p>
      {tags.map(([name, words]) => (
        <button key={name} type="button" class="tag" aria-label={`Take off: ${words}`} onClick={() => takeOff(name)}>
          {words}
          <Cross size={13} />
        </button>
      ))}
      {now.q && (
        <a class="tags-everywhere" href={address(['search'], { q: now.q })}>
          in all jobs
        </a>
      )}
      {tags.length > 1 && (
        <button type="button" class="plain" onClick={takeAllOff}>
          all off
        </button>
      )}
    </div>
  )
}

function countWords(isNarrowed: boolean): string {
  const total = held.value.total
  const all = job.value?.entries ?? 0
  if (!isNarrowed) return count(all, 'record')
  if (total === null) return `more than 1${figure(1000).slice(1)} of ${figure(all)}`
  return `${figure(total)} of ${count(all, 'record')}`
}

function tagsOf(): [FilterName, string][] {
  const now = filters.value
  const tags: [FilterName, string][] = []
  if (now.q) tags.push(['q', also.value.length ? `‘${now.q}’, also ${listed(also.value)}` : `‘${now.q}’`])
  if (now.place) {
    const near = now.only ? '' : touching(now.place).length ? ' and what touches it' : ''
    tags.push(['place', `${placeName(now.place)}${near}`])
  }
  if (now.kind) tags.push(['kind', kindWords(now.kind)])
  if (now.person)
    tags.push(['person', `by ${job.value?.people.find((person) => person.id === now.person)?.name ?? 'one person'}`])
  if (now.stage) tags.push(['stage', `at ${stageWords(now.stage)}`])
  if (now.from) tags.push(['from', `from ${now.from}`])
  if (now.to) tags.push(['to', `until ${now.to}`])
  return tags
}

/** Kind, person, stage and days to choose from. */
export function Narrow() {
  const now = filters.value
  const open = job.value
  const put = (name: FilterName) => (event: { currentTarget: { value: string } }) =>
    set({ [name]: event.currentTarget.value || undefined, exhibit: undefined }, true)
  const kinds = Object.entries(open?.kinds ?? {}).filter(([, n]) => n > 0)
  return (
    <div class="narrow narrow-record">
      <label>
        <span>kind</span>
        <select value={now.kind ?? ''} onChange={put('kind')}>
          <option value="">every kind</option>
          {kinds.map(([kind, n]) => (
            <option key={kind} value={kind}>
              {kindWords(kind)} ({n})
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>person</span>
        <select value={now.person ?? ''} onChange={put('person')}>
          <option value="">everyone</option>
          {open?.people.map((person) => (
            <option key={person.id} value={person.id}>
              {person.name} ({person.entries})
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>stage</span>
        <select value={now.stage ?? ''} onChange={put('stage')}>
          <option value="">every stage</option>
          {STAGES.map(({ code, words }) => (
            <option key={code} value={code}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>from day</span>
        <input type="date" value={now.from ?? ''} onChange={put('from')} />
      </label>
      <label>
        <span>until day</span>
        <input type="date" value={now.to ?? ''} onChange={put('to')} />
      </label>
    </div>
  )
}
