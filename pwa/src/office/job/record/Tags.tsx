import { Cross } from '../../../parts/controls/icons.tsx'
import { address, set } from '../../frame/route.ts'
import { listed } from '../../frame/words.ts'
import { kindGroups, kindWords } from './kinds.ts'
import { takeAllOff, takeOff, type FilterName } from './filters.ts'
import { placeName, touching } from './places.ts'
import { STAGES, stageWords } from '../../frame/stages.ts'
import { filters, held, job } from './state.ts'
import { also } from '../../frame/SearchBox.tsx'
import { say } from '../../frame/say.ts'

/** The filters in force, each of which can be taken off. */
export function Tags() {
  const now = filters.value
  const tags = tagsOf()
  return (
    <div class="tags rest along wrapped">
      <p class="tags-count soft" role="status">
        {countWords(tags.length > 0)}
      </p>
      {tags.map(([name, words]) => (
        <button key={name} type="button" class="tag" aria-label={say('record.take_off', { filter: words })} onClick={() => takeOff(name)}>
          {words}
          <Cross size={13} />
        </button>
      ))}
      {now.q && (
        <a class="tags-everywhere" href={address(['search'], { q: now.q })}>
          {say('record.in_all_jobs')}
        </a>
      )}
      {tags.length > 1 && (
        <button type="button" class="plain" onClick={takeAllOff}>
          {say('record.all_off')}
        </button>
      )}
    </div>
  )
}

/** The server counts matching records no further than this. */
const MOST_COUNTED = 1000

function countWords(isFiltered: boolean): string {
  const total = held.value.total
  const all = job.value?.entries ?? 0
  if (!isFiltered) return say('record.count', { count: all })
  if (total === null) return say('record.more_than', { most: MOST_COUNTED, count: all })
  return say('record.matching', { matching: total, count: all })
}

function nameOfPerson(id: string): string {
  return job.value?.people.find((person) => person.id === id)?.name ?? say('record.person_unknown')
}

function tagsOf(): [FilterName, string][] {
  const now = filters.value
  const tags: [FilterName, string][] = []
  if (now.q) tags.push(['q', also.value.length ? say('record.tag_words_also', { words: now.q, also: listed(also.value) }) : say('record.tag_words', { words: now.q })])
  if (now.place) {
    const place = placeName(now.place)
    const mating = !now.only && touching(now.place).length > 0
    tags.push(['place', mating ? say('record.tag_place_mating', { place }) : place])
  }
  if (now.kind) tags.push(['kind', kindWords(now.kind)])
  if (now.person)
    tags.push(['person', say('record.tag_person', { name: nameOfPerson(now.person) })])
  if (now.stage) tags.push(['stage', say('record.tag_stage', { stage: stageWords(now.stage) })])
  if (now.from) tags.push(['from', say('record.tag_from', { day: now.from })])
  if (now.to) tags.push(['to', say('record.tag_to', { day: now.to })])
  return tags
}

/** Kind, person, stage and days to choose from. */
export function FilterFields() {
  const now = filters.value
  const open = job.value
  const put = (name: FilterName) => (event: { currentTarget: { value: string } }) =>
    set({ [name]: event.currentTarget.value || undefined, exhibit: undefined }, true)
  return (
    <div class="narrow narrow-record wraps">
      <label>
        <span>{say('record.filter_kind')}</span>
        <select value={now.kind ?? ''} onChange={put('kind')}>
          <option value="">{say('record.every_kind')}</option>
          {kindGroups(open?.kinds ?? {}).map(({ words, kinds }) => (
            <optgroup key={words} label={words}>
              {kinds.map(([kind, n]) => (
                <option key={kind} value={kind}>
                  {kindWords(kind)} ({n})
                </option>
              ))}
            </optgroup>
          ))}
        </select>
      </label>
      <label>
        <span>{say('record.filter_person')}</span>
        <select value={now.person ?? ''} onChange={put('person')}>
          <option value="">{say('record.everyone')}</option>
          {open?.people.map((person) => (
            <option key={person.id} value={person.id}>
              {person.name} ({person.entries})
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>{say('record.filter_stage')}</span>
        <select value={now.stage ?? ''} onChange={put('stage')}>
          <option value="">{say('record.every_stage')}</option>
          {STAGES.map(({ code, words }) => (
            <option key={code} value={code}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label>
        <span>{say('record.filter_from')}</span>
        <input type="date" value={now.from ?? ''} onChange={put('from')} />
      </label>
      <label>
        <span>{say('record.filter_to')}</span>
        <input type="date" value={now.to ?? ''} onChange={put('to')} />
      </label>
    </div>
  )
}
