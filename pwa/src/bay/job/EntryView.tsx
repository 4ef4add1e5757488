import type { ComponentType } from 'preact'
import { useState } from 'preact/hooks'
import { AudioPlayer } from '../../parts/media/AudioPlayer.tsx'
import { type Job, type Row, originalOf, record } from '../../store/index.ts'
import { useServer } from '../frame/ask.ts'
import { Answer } from './Answer.tsx'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { SpokenNote } from '../speaking/SpokenNote.tsx'
import { handOver } from '../frame/TakeOut.tsx'
import { Thumb } from '../camera/Thumbs.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { readAs } from './readAs.ts'
import { open } from '../frame/route.ts'
import { useAsked, useBlob } from '../frame/useAsked.ts'
import { useType } from '../frame/useJob.ts'
import { authorOf, nameOf } from '../frame/who.ts'
import { clockTime } from '../frame/words.ts'
import { fieldLabel, fieldWords, isShown, mayBeCorrected, mayBeWithdrawn } from '../../trade/record/fields.ts'
import { KINDS, type View } from '../../trade/record/kinds.ts'

/** One record: what it says, its times, what was answered to it; from here it is corrected or withdrawn, never changed. */
export function EntryView({ job, id }: { job: Job; id: string }) {
  const row = useAsked<Row | null | undefined>(undefined, () => record(id), [id])
  const type = useType(job)
  const [answer, setAnswer] = useState<'correct' | 'withdraw' | null>(null)
  const [words, setWords] = useState('')
  if (row === undefined) return <Screen title="Record" job={job} acts={<BackAct />}>{null}</Screen>
  if (row === null) {
    return (
      <Screen title="Record" job={job} acts={<BackAct />}>
        <p>This record is not on this phone.</p>
      </Screen>
    )
  }
  const { title, text, was } = readAs(row, type)
  return (
    <Screen
      title={title}
      job={job}
      acts={
        <>
          <BackAct />
          {!row.withdrawn && mayBeWithdrawn(row.kind) && <Act name="Withdraw" onAct={() => setAnswer('withdraw')} />}
          {!row.withdrawn && mayBeCorrected(row.kind) && <Act name="Correct" main onAct={() => setAnswer('correct')} />}
        </>
      }
    >
      <Told words={words} />
      {was && (
        <p class="soft">
          As it was made: <s>{[was.title, was.text].filter(Boolean).join('. ')}</s>
        </p>
      )}
      <div class={row.withdrawn ? 'entry is-withdrawn' : 'entry'}>
        {text && <p class="entry-text">{text}</p>}
        <Media row={row} job={job} />
        {typeof row.entry.body.spoken === 'string' && row.entry.body.spoken !== '' && <SpokenIn row={row} job={job} sound={row.entry.body.spoken} />}
      </div>
      {row.withdrawn && (
        <p class="entry-answer">
          <strong>Withdrawn</strong> by {nameOf(row.withdrawn.entry.author)}, {clockTime(row.withdrawn.entry.claimed)}: {String(row.withdrawn.entry.body.reason)}
        </p>
      )}
      {row.corrections.map((c) => (
        <p class="entry-answer" key={c.id}>
          <strong>Corrected</strong> by {nameOf(c.entry.author)}, {clockTime(c.entry.claimed)}: {changesWords(row.kind, c, job)} {String(c.entry.body.reason)}
        </p>
      ))}
      <dl class="facts">
        <Fact name="place" value={nameOfPlace(job, row.place, row.point)} />
        <Fact name="by" value={authorOf(row.entry)} />
        <Fact name="claimed" value={row.entry.claimed.replace('T', ' ')} figures />
        <Fact
          name="received"
          value={row.received ? `${row.received.replace('T', ' ')}, position ${row.position}` : row.state === 'attention' ? 'refused: see what needs attention' : 'not sent yet, safe on this phone'}
          figures={Boolean(row.received)}
        />
        <Fact name="print" value={row.hash.match(/.{4}/g)?.slice(0, 4).join(' ') + ' …'} figures />
      </dl>
      {answer && (
        <Answer
          row={row}
          job={job}
          sort={answer}
          onClose={(said) => {
            setAnswer(null)
            setWords(said)
          }}
        />
      )}
    </Screen>
  )
}

/** What a correction of a record of this kind put in place: "value is 89.02. Now at main 3." */
function changesWords(kind: string, correction: Row, job: Job): string {
  const changes = (correction.entry.body.changes ?? {}) as Record<string, unknown>
  const parts = Object.entries(changes)
    .filter(([field, value], _, { length }) => length === 1 || isShown(kind, field, value))
    .map(([field, value]) => `${fieldLabel(kind, field)} is ${fieldWords(kind, field, value)}.`)
  const to = correction.entry.body.location as { place: string; point: string } | null
  if (to) parts.push(`Now at ${nameOfPlace(job, to.place, to.point)}.`)
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
  return url ? <AudioPlayer src={url} seconds={seconds} name="Spoken note" /> : <p class="soft">The recording is not on this phone. It comes from the server when there is signal.</p>
}

/** The sound that a record was spoken in, and the words it was proposed from. */
function SpokenIn({ row, job, sound }: { row: Row; job: Job; sound: string }) {
  const heard = useAsked<Row | null>(null, () => record(sound), [sound])
  return (
    <section class="spoken-in" aria-label="As it was spoken">
      <p class="small soft">
        Spoken, then accepted by hand. <span class="said-heard">heard: {String(row.entry.body.heard)}</span>
      </p>
      {heard && <Sound row={heard} />}
      {heard && (
        <button type="button" class="plain" onClick={() => open('entry', job.id, sound)}>
          The recording by itself
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
    else setWrong('The file is not on this phone. It comes from the server when there is signal.')
  }
  return (
    <p>
      <button type="button" onClick={() => void take()}>
        Open {media.name}
      </button>
      <Told words={wrong} wrong />
    </p>
  )
}
