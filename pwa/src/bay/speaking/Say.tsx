import { useEffect, useRef, useState } from 'preact/hooks'
import { type Recording, type Where, record } from '../../capture/index.ts'
import { AudioPlayer, minutes } from '../../parts/media/AudioPlayer.tsx'
import { LevelLine } from '../../parts/figures/LevelLine.tsx'
import { Cross, Mouth, Stop } from '../../parts/controls/icons.tsx'
import { hearAlong } from '../../speech/platform.ts'
import { type Job, originalOf } from '../../store/index.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { TakeOut } from '../frame/TakeOut.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { instead } from '../frame/route.ts'
import { hearsAlong } from './speech.ts'
import { useBlob } from '../frame/useStored.ts'
import { useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { sentence } from '../frame/words.ts'
import { say } from '../frame/say.ts'

interface SavedSound {
  sha256: string
  seconds: number
  /** What this browser's own recogniser heard meanwhile: shown, never recorded. */
  heard: string
}

/**
 * A spoken note. `atOnce`: it was opened by a touch on Say, and records from the first moment; after a restart, or on the
 * way back, it waits for a touch. Every second is stored before the next.
 */
export function Say({ job, atOnce }: { job: Job; atOnce: boolean }) {
  const at = useWhere(job)
  const { recording, saved, wrong, heard, message, busy, begin, end, discard } = useSpokenNote(job, at, atOnce)
  return (
    <Screen
      title={say('say.title', { place: nameOfPlace(job, at.place, at.point) })}
      quiet
      job={job}
      acts={
        recording ? (
          <>
            <Act name={say('say.discard')} small sign={<Cross size={26} />} onAct={() => void discard()} />
            <Act name={say('say.stop')} main sign={<Stop size={30} />} onAct={() => void end()} />
          </>
        ) : (
          <>
            <BackAct />
            <Act name={saved.length ? say('say.more') : say('say.record')} main off={busy} sign={<Mouth size={34} />} onAct={() => void begin()} />
          </>
        )
      }
    >
      {recording ? <Running recording={recording} at={at} job={job} onCut={() => void end()} onHeard={(text) => (heard.current = text)} /> : !wrong && saved.length === 0 && <p class="soft">{say('say.not_recording')}</p>}
      <StatusMessage words={wrong || message.words} wrong={Boolean(wrong) || message.wrong} />
      <TakeOut files={message.files} />
      {saved.map((sound) => (
        <SavedPlayer key={sound.sha256} {...sound} />
      ))}
    </Screen>
  )
}

function useSpokenNote(job: Job, at: Where, atOnce: boolean) {
  const running = useRef<Recording | null>(null)
  const [recording, setRecording] = useState<Recording | null>(null)
  const [wrong, setWrong] = useState('')
  const heard = useRef('')
  const [saved, setSaved] = useState<SavedSound[]>([])
  const { message, attempt, busy } = useSaving()
  const begin = async () => {
    setWrong('')
    try {
      running.current = await record(at)
      setRecording(running.current)
    } catch (fault) {
      setWrong(sentence(fault))
    }
  }
  const end = async () => {
    const open = running.current
    if (!open) return
    running.current = null
    const seconds = open.seconds.value
    const text = heard.current
    heard.current = ''
    setRecording(null)
    const entry = await attempt(() => open.stop(), say('say.saved'))
    const sha256 = entry?.media[0]
    if (sha256) setSaved((all) => [{ sha256, seconds, heard: text }, ...all])
  }
  useEffect(() => {
    if (atOnce) {
      instead('say', job.id)
      void begin()
    }
    // Going away ends the recording and saves it: what was said is never dropped by a touch on the wrong corner.
    return () => void running.current?.stop().catch(() => undefined)
  }, [])
  const discard = async () => {
    const open = running.current
    running.current = null
    heard.current = ''
    setRecording(null)
    await open?.cancel()
  }
  return { recording, saved, wrong, heard, message, busy, begin, end, discard }
}

interface RunningProps {
  recording: Recording
  at: Where
  job: Job
  onCut: () => void
  onHeard: (text: string) => void
}

function Running({ recording, at, job, onCut, onHeard }: RunningProps) {
  const [heard, setHeard] = useState('')
  useEffect(() => {
    const [track] = recording.stream.getAudioTracks()
    if (!track || !hearsAlong()) return
    const along = hearAlong(track, (text) => {
      setHeard(text)
      onHeard(text)
    })
    return () => void along.then((end) => end())
  }, [recording])
  const seconds = recording.seconds.value
  const cut = recording.cut.value
  useEffect(() => {
    if (cut) onCut()
  }, [cut])
  return (
    <section class="saying to-middle" aria-label={say('say.recording')}>
      <p class="saying-time figure" role="timer">
        {minutes(seconds)}
      </p>
      <LevelLine stream={recording.stream} />
      <p>
        {say('say.recording_for')} <strong>{nameOfPlace(job, at.place, at.point)}</strong>
      </p>
      <p class="soft" aria-live="off">
        {seconds ? say('say.seconds', { count: seconds }) : say('say.speak')}
      </p>
      {heard && <p>{heard}</p>}
    </section>
  )
}

function SavedPlayer({ sha256, seconds, heard }: SavedSound) {
  const url = useBlob(() => originalOf(sha256), [sha256])
  return (
    <>
      {url && <AudioPlayer src={url} seconds={seconds} name={say('say.just_saved')} />}
      {heard && <p class="small soft">{say('say.heard_along', { words: heard })}</p>}
    </>
  )
}
