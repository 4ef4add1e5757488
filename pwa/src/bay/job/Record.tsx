import { useEffect, useState } from 'preact/hooks'
import { Balloon } from '../../parts/controls/Balloon.tsx'
import { Field } from '../../parts/controls/Field.tsx'
import { type EngineType, type Job, type Row, spokenOf, timeline } from '../../store/index.ts'
import type { SpokenNote } from '../../trade/spoken/notes.ts'
import { ABOUT, KINDS } from '../../trade/record/kinds.ts'
import { also, expand } from '../../trade/engine/vocabulary.ts'
import { BackAct, Screen } from '../frame/Frame.tsx'
import { KindSign } from '../../parts/controls/KindSign.tsx'
import { Strip } from '../frame/Strip.tsx'
import { Thumb } from '../camera/Thumbs.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { readAs } from './readAs.ts'
import { open } from '../frame/route.ts'
import { useStored } from '../frame/useStored.ts'
import { useType, useWhere } from '../frame/useJob.ts'
import { authorOf } from '../frame/who.ts'
import { clockTime } from '../frame/words.ts'
import { say } from '../frame/say.ts'
import './record.css'

const PAGE = 40

/** Everything recorded for a job, by anybody, newest first; searched by words and what they are also called. */
export function Record({ job, hereOnly }: { job: Job; hereOnly: boolean }) {
  const at = useWhere(job)
  const type = useType(job)
  const [words, setWords] = useState('')
  const [here, setHere] = useState(hereOnly && Boolean(at.place))
  const [pages, setPages] = useState(1)
  const place = here ? at.place : ''
  useEffect(() => setPages(1), [words, place])
  const searched = words.trim() ? expand(words) : undefined
  const rows = useStored<Row[]>([], () => timeline(job.id, { words: searched, place: place || undefined, limit: pages * PAGE + 1 }), [job.id, words, place, pages])
  // Corrections and withdrawals are read where the record stands that they speak of; so is the text of a recording, which
  // stands for itself only where it is what was searched for, and leads there.
  const hidden = searched ? ABOUT.record : [...ABOUT.record, ...ABOUT.sound]
  const shown = rows.filter((r) => !hidden.includes(r.kind)).slice(0, pages * PAGE)
  const others = words.trim() ? also(words) : []
  return (
    <Screen title={say('record.title', { number: job.number })} job={job} acts={<BackAct />}>
      <Field label={say('record.find')} value={words} onValue={setWords} keys="search" hint={others.length ? say('record.also', { words: others.slice(0, 5).join(', ') }) : undefined} />
      {at.place && (
        <Strip
          name={say('record.which')}
          kind="inset"
          items={[
            { value: '', words: say('record.whole_job') },
            { value: 'here', words: nameOfPlace(job, at.place) },
          ]}
          chosen={here ? 'here' : ''}
          onChoose={(which) => setHere(which === 'here')}
        />
      )}
      <ol class="record line-over">
        {shown.map((row) => (
          <Entry key={row.id} row={row} job={job} type={type} />
        ))}
      </ol>
      {shown.length === 0 && <p class="soft">{words ? say('record.none_match') : say('record.none')}</p>}
      {rows.length > pages * PAGE && (
        <button type="button" class="wide" onClick={() => setPages(pages + 1)}>
          {say('record.older')}
        </button>
      )}
      {!job.chosen && <p class="small soft">{say('record.not_whole')}</p>}
    </Screen>
  )
}

function Entry({ row, job, type }: { row: Row; job: Job; type: EngineType | null }) {
  const { title, text, was } = readAs(row, type)
  const state = row.state === 'waiting' ? say('title.on_this_phone') : row.state === 'attention' ? say('record.attention') : ''
  return (
    <li class={row.withdrawn ? 'is-withdrawn' : ''}>
      <button type="button" class="record-open flat in-grid" onClick={() => open('entry', job.id, ABOUT.sound.includes(row.kind) ? String(row.entry.body.entry) : row.id)}>
        <Balloon number={<KindSign kind={row.kind} />} solid={false} />
        <span class="record-words">
          {was && was.title !== title && <span class="record-was small soft own-line">{was.title}</span>}
          <span class="record-title own-line bold">{title}</span>
          {text && <span class="record-text two-lines breaks">{text}</span>}
          {KINDS[row.kind]?.view === 'sound' && <Transcript sound={row.id} />}
          <span class="small soft">
            {clockTime(row.entry.claimed)} · {authorOf(row.entry)}
            {state && <strong> · {state}</strong>}
            {row.corrections.length > 0 && ` · ${say('record.corrected')}`}
            {row.withdrawn && ` · ${say('common.withdrawn')}`}
          </span>
        </span>
      </button>
      {KINDS[row.kind]?.view === 'picture' && <Thumb row={row} onOpen={() => open('picture', job.id, row.id)} />}
    </li>
  )
}

/** What is said in a recording, as it stands now. */
function Transcript({ sound }: { sound: string }) {
  const note = useStored<SpokenNote | null>(null, () => spokenOf(sound), [sound])
  if (!note?.text) return null
  return (
    <span class="record-text two-lines breaks">
      {note.by === 'machine' && <span class="soft">{say('speaking.machine_transcript')}: </span>}
      {note.text}
    </span>
  )
}
