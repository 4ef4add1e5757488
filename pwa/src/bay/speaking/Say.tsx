import { useEffect, useRef, useState } from 'preact/hooks'
import { type Recording, type Where, record } from '../../capture/index.ts'
import { AudioPlayer, minutes } from '../../parts/media/AudioPlayer.tsx'
import { LevelLine } from '../../parts/figures/LevelLine.tsx'
import { Cross, Mouth, Stop } from '../../parts/controls/icons.tsx'
import { hearAlong } from '../../speech/platform.ts'
import { type Job, originalOf } from '../../store/index.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { TakeOut } from '../frame/TakeOut.tsx'
import { nameOfPlace } from '../frame/places.ts'
import { instead } from '../frame/route.ts'
import { hearsAlong } from './speech.ts'
import { useBlob } from '../frame/useAsked.ts'
import { useWhere } from '../frame/useJob.ts'
import { useSaving } from '../frame/useSaving.ts'
import { sentence } from '../frame/words.ts'

interface Kept {
  sha256: string
  seconds: number
  /** What this browser's own recogniser heard meanwhile: shown, never recorded. */
  heard: string
}

/**
 * A spoken note. `atOnce`: it was opened by a touch on Say, and records from the first moment; after a restart, or on the
 * way back, it waits to be asked. Every second is kept before the next.
 */
export function Say({ job, atOnce }: { job: Job; atOnce: boolean }) {
  const at = useWhere(job)
  const running = useRef<Recording | null>(null)
  const [recording, setRecording] = useState<Recording | null>(null)
  const [wrong, setWrong] = useState('')
  const heard = useRef('')
  const [kept, setKept] = useState<Kept[]>([])
  const { told, keep, busy } = useSaving()
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
    const said = heard.current
    heard.current = ''
    setRecording(null)
    const saved = await keep(() => open.stop(), 'Saved. Its text follows when this phone has reached the server.')
    const sha256 = saved?.media[0]
    if (sha256) setKept((all) => [{ sha256, seconds, heard: said }, ...all])
  }
  useEffect(() => {
    if (atOnce) {
      instead('say', job.id)
      void begin()
    }
    // Going away ends the recording and keeps it: what was said is never dropped by a touch on the wrong corner.
    return () => void running.current?.stop().catch(() => undefined)
  }, [])
  const throwAway = async () => {
    const open = running.current
    running.current = null
    heard.current = ''
    setRecording(null)
    await open?.cancel()
  }
  return (
    <Screen
      title={`Say, ${nameOfPlace(job, at.place, at.point)}`}
      quiet
      job={job}
      acts={
        recording ? (
          <>
            <Act name="Throw away" small sign={<Cross size={26} />} onAct={() => void throwAway()} />
            <Act name="Stop and keep" main sign={<Stop size={30} />} onAct={() => void end()} />
          </>
        ) : (
          <>
            <BackAct />
            <Act name={kept.length ? 'Say more' : 'Record'} main off={busy} sign={<Mouth size={34} />} onAct={() => void begin()} />
          </>
        )
      }
    >
      {recording ? <Running recording={recording} at={at} job={job} onCut={() => void end()} onHeard={(text) => (heard.current = text)} /> : !wrong && kept.length === 0 && <p class="soft">Not recording.</p>}
      <Told words={wrong || told.words} wrong={Boolean(wrong) || told.wrong} />
      <TakeOut files={told.files} />
      {kept.map((k) => (
        <KeptSound key={k.sha256} {...k} />
      ))}
    </Screen>
  )
}

interface RunningAsked {
  recording: Recording
  at: Where
  job: Job
  onCut: () => void
  onHeard: (text: string) => void
}

function Running({ recording, at, job, onCut, onHeard }: RunningAsked) {
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
    <section class="saying" aria-label="Recording">
      <p class="saying-time figure" role="timer">
        {minutes(seconds)}
      </p>
      <LevelLine stream={recording.stream} />
      <p>
        Recording for <strong>{nameOfPlace(job, at.place, at.point)}</strong>.
      </p>
      <p class="soft" aria-live="off">
        {seconds ? `${seconds} ${seconds === 1 ? 'second is' : 'seconds are'} in the phone's store already.` : 'Speak now.'}
      </p>
      {heard && <p>{heard}</p>}
    </section>
  )
}

function KeptSound({ sha256, seconds, heard }: Kept) {
  const url = useBlob(() => originalOf(sha256), [sha256])
  return (
    <>
      {url && <AudioPlayer src={url} seconds={seconds} name="The recording just kept" />}
      {heard && <p class="small soft">Heard by this browser, not recorded: {heard}</p>}
    </>
  )
}
