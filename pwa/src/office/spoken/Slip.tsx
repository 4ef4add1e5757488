import { useEffect, useState } from 'preact/hooks'
import { Balloon } from '../../parts/controls/Balloon.tsx'
import { get, post, ApiError } from '../frame/api.ts'
import { Done, Fault } from '../frame/Say.tsx'
import { useAsk } from '../frame/useAsk.ts'
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

interface Props {
  line: SpokenItem
  /** Changes when the list was read anew: then the slip is too. */
  turn: number
  changed: () => void
  back: () => void
}

/** How often, and how long, the slip is looked at again after its recognisers were asked once more. */
const LOOK_EVERY_MS = 3000
const LOOK_FOR_MS = 180_000

/** One spoken note at large: heard, read, compared, and answered. */
export function Slip({ line, turn, changed, back }: Props) {
  const { told, trouble, again } = useAsk<SpokenItem>(`/api/entries/${line.id}`)
  const [correcting, setCorrecting] = useState<Item | null>(null)
  const [fault, setFault] = useState('')
  useEffect(again, [turn])
  const [asked, setAsked] = useState(false)
  useEffect(() => {
    if (!asked) return
    const timer = setInterval(again, LOOK_EVERY_MS)
    const stop = setTimeout(() => clearInterval(timer), LOOK_FOR_MS)
    return () => (clearInterval(timer), clearTimeout(stop))
  }, [asked])
  const item = told?.id === line.id ? told : line
  const note = item.spoken
  const sound = item.media.find(({ role }) => role === 'audio')
  const after = () => {
    again()
    changed()
  }
  const doing = (act: () => Promise<unknown>) => () => {
    setFault('')
    act().catch((reason) => setFault(reason instanceof ApiError ? reason.message : String(reason)))
  }
  const askAgain = async () => {
    await post(`/api/spoken/${line.id}/again`)
    setAsked(true)
  }
  const correct = (id: string) => doing(async () => setCorrecting(await get<Item>(`/api/entries/${id}`)))()
  return (
    <section class="slip" aria-label={`Spoken note, exhibit ${item.exhibit}, job ${item.job?.number}`}>
      <header class="slip-head">
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
          List
        </button>
      </header>
      <Fault>{trouble?.message}</Fault>
      {sound && <Recording item={item} sound={sound} />}
      <div class="slip-body">
        <p class="slip-stamp">
          {note.query && <QueryMark />}
          <Stamp note={note} />
        </p>
        <State item={item} />
        {note.why && note.state !== 'undecodable' && <p class="soft">{note.why}</p>}
        {note.confirmed?.remark && <p class="soft">Remark: {note.confirmed.remark}</p>}
        <Confirm key={item.id} item={item} done={after} />
        <Beside item={item} correct={correct} />
        <Heard item={item} />
        <Fault>{fault}</Fault>
        <p class="slip-again">
          {note.state !== 'waiting' && sound?.here && (
            <button type="button" disabled={asked} onClick={doing(askAgain)}>
              Ask again
            </button>
          )}
          <span class="soft">
            {note.state !== 'waiting' && sound?.here && 'All recognisers that are usable now listen once more; what was heard before stays in the record. '}
            {sound && `As recorded, ${bytes(sound.length)}: it is never changed.`}
          </span>
        </p>
        <Done>
          {asked &&
            'They are asked. What they hear appears here by itself; where recognisers, models and words are the same as before, nothing is added.'}
        </Done>
      </div>
      {correcting?.job && (
        <InJob id={correcting.job.id}>
          <Amend
            item={correcting}
            how="correct"
            close={() => {
              setCorrecting(null)
              after()
            }}
          />
        </InJob>
      )}
    </section>
  )
}

function Recording({ item, sound }: { item: SpokenItem; sound: Media }) {
  if (!sound.here)
    return (
      <div class="exhibit-absent">
        <p>The record is here; its sound ({bytes(sound.length)}) is still on the way. It appears here by itself.</p>
        {item.spoken.text && <p class="spoken-words">{item.spoken.text}</p>}
      </div>
    )
  return (
    <SpokenSound
      key={item.id}
      src={original(sound.sha256)}
      seconds={Number(item.body['duration_ms'] ?? 0) / 1000}
      name={`Recording, exhibit ${item.exhibit}`}
      text={item.spoken.text}
      words={wordsFor(item.spoken)}
    />
  )
}

/** Why there are no words, and what comes next. */
function State({ item }: { item: SpokenItem }) {
  const { state, why, text } = item.spoken
  if (text) return null
  if (state === 'waiting')
    return <p>Not transcribed yet. It waits its turn; the words appear here by themselves. You can listen and write them down now.</p>
  if (state === 'nothing') return <p>No recogniser understood anything. Listen, and write down what is said.</p>
  if (state === 'undecodable')
    return <p>{why || 'The sound cannot be decoded here. It is kept as it was recorded; whoever can play it may write down what is said.'}</p>
  return null
}

/** The forms of the record want the job open: its places and its people. */
function InJob({ id, children }: { id: string; children: preact.ComponentChildren }) {
  useEffect(() => openJob(id), [id])
  return job.value?.id === id ? <>{children}</> : null
}
