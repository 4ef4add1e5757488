import { useEffect, useState } from 'preact/hooks'
import { Balloon } from '../../parts/controls/Balloon.tsx'
import { get, post, ApiError } from '../frame/api.ts'
import { DoneNotice, FaultNotice } from '../frame/notices.tsx'
import { useGet } from '../frame/useGet.ts'
import { Amend } from '../job/record/Amend.tsx'
import { job, openJob } from '../job/record/state.ts'
import { original } from '../frame/Thumb.tsx'
import { address } from '../frame/route.ts'
import type { Item, Media } from '../frame/shapes.ts'
import { bytes, dayAndClock } from '../frame/words.ts'
import { Beside } from './Beside.tsx'
import { Confirm } from './Confirm.tsx'
import { Heard } from './Heard.tsx'
import type { SpokenItem } from './shapes.ts'
import { SpokenSound } from '../recording/SpokenSound.tsx'
import { QueryMark, Stamp } from '../recording/Stamp.tsx'
import { wordsFor } from '../recording/words.ts'
import { say } from '../frame/say.ts'

interface Props {
  line: SpokenItem
  /** Changes whenever the list was fetched; the recording is then fetched again too. */
  turn: number
  changed: () => void
  back: () => void
}

/** How often, and how long, for results of a repeated transcription. */
const LOOK_EVERY_MS = 3000
const LOOK_FOR_MS = 180_000

/** One spoken note at large: played, read, compared, confirmed or corrected. */
export function Slip({ line, turn, changed, back }: Props) {
  const { data: entry, error, reload } = useGet<SpokenItem>(`/api/entries/${line.id}`)
  const [correcting, setCorrecting] = useState<Item | null>(null)
  const [fault, setFault] = useState('')
  useEffect(reload, [turn])
  const item = entry?.id === line.id ? entry : line
  const note = item.spoken
  const sound = item.media.find(({ role }) => role === 'audio')
  const after = () => {
    reload()
    changed()
  }
  const correct = (id: string) => {
    setFault('')
    get<Item>(`/api/entries/${id}`).then(setCorrecting, (reason) => setFault(reason instanceof ApiError ? reason.message : String(reason)))
  }
  const closeCorrection = () => {
    setCorrecting(null)
    after()
  }
  return (
    <section class="slip" aria-label={say('spoken.slip', { number: String(item.exhibit), job: item.job?.number ?? '' })}>
      <Head item={item} back={back} />
      <FaultNotice>{error?.message}</FaultNotice>
      {sound && <Recording item={item} sound={sound} />}
      <div class="slip-body in-grid">
        <p class="slip-stamp along wrapped">
          {note.query && <QueryMark />}
          <Stamp note={note} />
        </p>
        <State item={item} />
        {note.why && note.state !== 'undecodable' && <p class="soft">{note.why}</p>}
        {note.confirmed?.remark && <p class="soft">{say('spoken.remark_is', { remark: note.confirmed.remark })}</p>}
        <Confirm key={item.id} item={item} done={after} />
        <Beside item={item} correct={correct} />
        <Heard item={item} />
        <FaultNotice>{fault}</FaultNotice>
        <TranscribeAgain item={item} sound={sound} reload={reload} />
      </div>
      {correcting?.job && (
        <InJob id={correcting.job.id}>
          <Amend item={correcting} how="correct" close={closeCorrection} />
        </InJob>
      )}
    </section>
  )
}

/** Which record it is, of which job, by whom and when. */
function Head({ item, back }: { item: SpokenItem; back: () => void }) {
  return (
    <header class="slip-head grid-tops">
      <Balloon number={item.exhibit} solid />
      <div>
        <h2>{item.title}</h2>
        <p class="soft">
          {item.job && (
            <a href={address(['job', item.job.id], { exhibit: String(item.exhibit) })}>
              {item.job.number}, {item.job.vehicle}
            </a>
          )}{' '}
          {item.author.name}, {dayAndClock(item.claimed)}
        </p>
      </div>
      <button type="button" class="slip-back" onClick={back}>
        {say('spoken.list')}
      </button>
    </header>
  )
}

/** Has the recording transcribed once more by all recognisers, and looks for their results for a while. */
function TranscribeAgain({ item, sound, reload }: { item: SpokenItem; sound: Media | undefined; reload: () => void }) {
  const [requested, setRequested] = useState(false)
  const [fault, setFault] = useState('')
  useEffect(() => {
    if (!requested) return
    const timer = setInterval(reload, LOOK_EVERY_MS)
    const stop = setTimeout(() => clearInterval(timer), LOOK_FOR_MS)
    return () => (clearInterval(timer), clearTimeout(stop))
  }, [requested])
  const request = () => {
    setFault('')
    post(`/api/spoken/${item.id}/again`).then(
      () => setRequested(true),
      (reason) => setFault(reason instanceof ApiError ? reason.message : String(reason)),
    )
  }
  const possible = item.spoken.state !== 'waiting' && sound?.here
  return (
    <>
      <FaultNotice>{fault}</FaultNotice>
      <p class="slip-again in-grid">
        {possible && (
          <button type="button" disabled={requested} onClick={request}>
            {say('spoken.transcribe_again')}
          </button>
        )}
        <span class="soft">
          {possible && `${say('spoken.transcribe_again_help')} `}
          {sound && say('spoken.as_recorded', { size: bytes(sound.length) })}
        </span>
      </p>
      <DoneNotice>{requested && say('spoken.transcribing_again')}</DoneNotice>
    </>
  )
}

function Recording({ item, sound }: { item: SpokenItem; sound: Media }) {
  if (!sound.here)
    return (
      <div class="exhibit-absent line-under">
        <p>{say('record.recording_absent', { size: bytes(sound.length) })}</p>
        {item.spoken.text && <p class="spoken-words breaks above-6">{item.spoken.text}</p>}
      </div>
    )
  return (
    <SpokenSound
      key={item.id}
      src={original(sound.sha256)}
      seconds={Number(item.body['duration_ms'] ?? 0) / 1000}
      name={say('spoken.recording_of', { number: String(item.exhibit) })}
      text={item.spoken.text}
      words={wordsFor(item.spoken)}
    />
  )
}

/** Why there are no words, and what comes next. */
function State({ item }: { item: SpokenItem }) {
  const { state, why, text } = item.spoken
  if (text) return null
  if (state === 'waiting') return <p>{say('spoken.state_waiting')}</p>
  if (state === 'nothing') return <p>{say('spoken.state_nothing')}</p>
  if (state === 'undecodable') return <p>{why || say('spoken.state_undecodable')}</p>
  return null
}

/** Opens the job while its forms are shown: they need its places and its people. */
function InJob({ id, children }: { id: string; children: preact.ComponentChildren }) {
  useEffect(() => openJob(id), [id])
  return job.value?.id === id ? <>{children}</> : null
}
