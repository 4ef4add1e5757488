import type { ComponentType } from 'preact'
import { useState } from 'preact/hooks'
import { AudioPlayer } from '../../parts/media/AudioPlayer.tsx'
import { type Job, type Row, originalOf, record } from '../../store/index.ts'
import { useServer } from '../frame/server.ts'
import { Answer } from './Answer.tsx'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { SpokenNote } from '../speaking/SpokenNote.tsx'
import { handOver } from '../frame/TakeOut.tsx'
import { Thumb } from '../camera/Thumbs.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { readAs } from './readAs.ts'
import { open } from '../frame/route.ts'
import { useStored, useBlob } from '../frame/useStored.ts'
import { useType } from '../frame/useJob.ts'
import { authorOf, nameOf } from '../frame/who.ts'
import { capital, clockTime } from '../frame/words.ts'
import { say } from '../frame/say.ts'
import { fieldLabel, fieldWords, isShown, mayBeCorrected, mayBeWithdrawn } from '../../trade/record/fields.ts'
import { KINDS, type View } from '../../trade/record/kinds.ts'

/** One record: what it says, its times, its corrections; from here it is corrected or withdrawn, never changed. */
export function EntryView({ job, id }: { job: Job; id: string }) {
  const row = useStored<Row | null | undefined>(undefined, () => record(id), [id])
  if (row) return <EntryScreen job={job} row={row} />
  return (
    <Screen title={say('entry.title')} job={job} acts={<BackAct />}>
      {row === null && <p>{say('entry.not_here')}</p>}
    </Screen>
  )
}

function EntryScreen({ job, row }: { job: Job; row: Row }) {
  const [answer, setAnswer] = useState<'correct' | 'withdraw' | null>(null)
  const [words, setWords] = useState('')
  const { title, text, was } = readAs(row, useType(job))
  return (
    <Screen
      title={title}
      job={job}
      acts={
        <>
          <BackAct />
          {!row.withdrawn && mayBeWithdrawn(row.kind) && <Act name={say('answer.withdraw')} onAct={() => setAnswer('withdraw')} />}
          {!row.withdrawn && mayBeCorrected(row.kind) && <Act name={say('entry.correct')} main onAct={() => setAnswer('correct')} />}
        </>
      }
    >
      <StatusMessage words={words} />
      {was && (
        <p class="soft">
          {say('entry.as_made')} <s>{[was.title, was.text].filter(Boolean).join('. ')}</s>
        </p>
      )}
      <div class={`stack is-wide${row.withdrawn ? ' is-withdrawn' : ''}`}>
        {text && <p class="entry-text breaks larger">{text}</p>}
        <Media row={row} job={job} />
        {typeof row.entry.body.spoken === 'string' && row.entry.body.spoken !== '' && <SpokenIn row={row} job={job} sound={row.entry.body.spoken} />}
      </div>
      <Amendments job={job} row={row} />
      <Provenance job={job} row={row} />
      {answer && (
        <Answer
          row={row}
          job={job}
          sort={answer}
          onClose={(saved) => {
            setAnswer(null)
            setWords(saved)
          }}
        />
      )}
    </Screen>
  )
}

/** The withdrawal and the corrections of a record, each with who made it, when and why. */
function Amendments({ job, row }: { job: Job; row: Row }) {
  const by = ({ entry }: { entry: Row['entry'] }) => ({ name: nameOf(entry.author), time: clockTime(entry.claimed), reason: String(entry.body.reason) })
  return (
    <>
      {row.withdrawn && <p class="noted is-answer">{say('entry.withdrawn_by', { ...by(row.withdrawn) })}</p>}
      {row.corrections.map((c) => (
        <p class="noted is-answer" key={c.id}>
          {say('entry.corrected_by', { ...by(c), changes: changesWords(row.kind, c, job) })}
        </p>
      ))}
    </>
  )
}

/** Where it belongs, who made it, and its times. */
function Provenance({ job, row }: { job: Job; row: Row }) {
  const unsent = row.state === 'attention' ? say('entry.refused') : say('entry.not_sent')
  return (
    <dl class="facts line-over">
      <Fact name={say('common.place')} value={nameOfPlace(job, row.place, row.point)} />
      <Fact name={say('title.by')} value={authorOf(row.entry)} />
      <Fact name={say('entry.phone_time')} value={row.entry.claimed.replace('T', ' ')} figures />
      <Fact
        name={say('entry.server_time')}
        value={row.received ? say('entry.received_at', { time: row.received.replace('T', ' '), position: String(row.position) }) : unsent}
        figures={Boolean(row.received)}
      />
      <Fact name={say('entry.fingerprint')} value={row.hash.match(/.{4}/g)?.slice(0, 4).join(' ') + ' …'} figures />
    </dl>
  )
}

/** What a correction of a record of this kind put in place: "Value: 89.02. Now at main 3." */
function changesWords(kind: string, correction: Row, job: Job): string {
  const changes = (correction.entry.body.changes ?? {}) as Record<string, unknown>
  const parts = Object.entries(changes)
    .filter(([field, value], _, { length }) => length === 1 || isShown(kind, field, value))
    .map(([field, value]) => say('entry.change', { field: capital(fieldLabel(kind, field)), value: fieldWords(kind, field, value) }))
  const to = correction.entry.body.location as { place: string; point: string } | null
  if (to) parts.push(say('entry.moved', { place: nameOfPlace(job, to.place, to.point) }))
  return parts.join(' ')
}

function Fact({ name, value, figures }: { name: string; value: string; figures?: boolean }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd class={figures ? 'figure' : ''}>{value}</dd>
    </div>
  )
}

interface MediaProps {
  row: Row
  job: Job
}

function Picture({ row, job }: MediaProps) {
  return (
    <div class="entry-picture">
      <Thumb row={row} onOpen={() => open('picture', job.id, row.id)} />
    </div>
  )
}

function SoundAndText({ row }: MediaProps) {
  return (
    <>
      <Sound row={row} />
      <SpokenNote row={row} />
    </>
  )
}

/** The drawing of each view that has a file; the others are read in the title and the text. */
const WITH_FILE: Partial<Record<View, ComponentType<MediaProps>>> = { picture: Picture, sound: SoundAndText, document: Paper }

function Media({ row, job }: MediaProps) {
  const Drawing = row.entry.media.length > 0 && WITH_FILE[KINDS[row.kind]?.view ?? 'facts']
  return Drawing ? <Drawing row={row} job={job} /> : null
}

function useOriginal(sha256: string): string | null {
  const server = useServer()
  return useBlob(async () => (await originalOf(sha256)) ?? (await server.fetchOriginal(sha256)), [sha256])
}

function Sound({ row }: { row: Row }) {
  const url = useOriginal(row.entry.media[0]!.sha256)
  const seconds = Number(row.entry.body.duration_ms ?? 0) / 1000
  return url ? <AudioPlayer src={url} seconds={seconds} name={say('entry.spoken_note')} /> : <p class="soft">{say('entry.no_recording')}</p>
}

/** The recording that a record was spoken in, and the words it was proposed from. */
function SpokenIn({ row, job, sound }: { row: Row; job: Job; sound: string }) {
  const recording = useStored<Row | null>(null, () => record(sound), [sound])
  return (
    <section class="spoken-in" aria-label={say('entry.as_spoken')}>
      <p class="small soft">
        {say('entry.spoken_accepted')} <span class="soft breaks close-set">{say('speaking.heard', { words: String(row.entry.body.heard) })}</span>
      </p>
      {recording && <Sound row={recording} />}
      {recording && (
        <button type="button" class="plain" onClick={() => open('entry', job.id, sound)}>
          {say('entry.open_recording')}
        </button>
      )}
    </section>
  )
}

function Paper({ row }: { row: Row }) {
  const server = useServer()
  const media = row.entry.media[0]!
  const [wrong, setWrong] = useState('')
  const take = async () => {
    const blob = (await originalOf(media.sha256)) ?? (await server.fetchOriginal(media.sha256))
    if (blob) handOver(blob, media.name)
    else setWrong(say('entry.no_file'))
  }
  return (
    <p>
      <button type="button" onClick={() => void take()}>
        {say('entry.open_file', { file: media.name })}
      </button>
      <StatusMessage words={wrong} wrong />
    </p>
  )
}
