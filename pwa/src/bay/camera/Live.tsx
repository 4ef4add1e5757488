import { useEffect, useRef, useState } from 'preact/hooks'
import { type Live as LiveCamera, type Where, openLive } from '../../capture/index.ts'
import { Camera, Lamp } from '../../parts/controls/icons.tsx'
import type { Job } from '../../store/index.ts'
import { Act, BackAct, Screen } from '../frame/Frame.tsx'
import { ShotWords } from './ShotWords.tsx'
import { faultOf, goOn, keep, series } from './pictures.ts'
import { nameOfPlace } from '../frame/places.ts'
import { sentence } from '../frame/words.ts'
import { say } from '../frame/say.ts'

const LEAST_PIXELS = 2_000_000

/** The camera inside the page, for series: one touch, one picture, and at once ready for the next. */
export function Live({ job, at, onClose }: { job: Job; at: Where; onClose: () => void }) {
  const { video, camera, words, lamp, turnLamp } = useLive()
  const [flash, setFlash] = useState(0)
  const shots = series.value.filter((s) => s.at.job === job.id)
  const saved = shots.filter((s) => s.state === 'saved').length
  const doubtful = shots.find(faultOf)
  const shoot = () => {
    const open = camera.current
    if (!open) return
    setFlash((n) => n + 1)
    goOn()
    void keep(at, smallOf(video.current), () => open.shoot(at))
  }
  return (
    <Screen
      title={say('live.title', { place: nameOfPlace(job, at.place, at.point) })}
      quiet
      job={job}
      full
      acts={
        <>
          <BackAct name={say('common.close')} onAct={onClose} />
          <Act name={say('live.take', { count: shots.length })} main sign={<Camera size={34} />} off={Boolean(words) && !camera.current} onAct={shoot} />
          {lamp !== null && <Act name={lamp ? say('live.lamp_off') : say('live.lamp_on')} small sign={<Lamp size={26} />} onAct={() => void turnLamp()} />}
        </>
      }
    >
      <div class="live glass">
        <video class="laid-over whole" ref={video} playsInline muted aria-label={say('live.camera_view')} />
        {flash > 0 && <span class="live-flash laid-over" key={flash} />}
        <p class="live-count" role="status">
          {shots.length > saved ? say('live.saved_and_saving', { saved, saving: shots.length - saved }) : say('live.saved', { saved })}
        </p>
        {words && <p class="live-words">{words}</p>}
      </div>
      {doubtful && <ShotWords shot={doubtful} onAgain={shoot} />}
    </Screen>
  )
}

/** The open camera behind its video element; `words`: why nothing is seen yet, '' when all is well. */
function useLive() {
  const video = useRef<HTMLVideoElement>(null)
  const camera = useRef<LiveCamera | null>(null)
  const [words, setWords] = useState(() => say('live.opening'))
  const [lamp, setLamp] = useState<boolean | null>(null)
  useEffect(() => {
    let gone = false
    openLive(video.current!).then(
      (opened) => {
        if (gone) return opened.stop()
        camera.current = opened
        const { width, height } = opened.facts
        setWords(width * height < LEAST_PIXELS ? say('live.few_pixels', { width: String(width), height: String(height) }) : '')
        setLamp(hasLamp(video.current) ? false : null)
      },
      (fault) => setWords(sentence(fault)),
    )
    return () => {
      gone = true
      camera.current?.stop()
      camera.current = null
    }
  }, [])
  const turnLamp = async () => setLamp(await light(video.current, !lamp))
  return { video, camera, words, lamp, turnLamp }
}

/** A small copy of what the camera sees at this moment, to show what was just taken. */
function smallOf(video: HTMLVideoElement | null): string {
  if (!video?.videoWidth) return ''
  const canvas = document.createElement('canvas')
  canvas.width = 480
  canvas.height = Math.round((480 * video.videoHeight) / video.videoWidth)
  canvas.getContext('2d')?.drawImage(video, 0, 0, canvas.width, canvas.height)
  return canvas.toDataURL('image/jpeg', 0.7)
}

const trackOf = (video: HTMLVideoElement | null) => (video?.srcObject instanceof MediaStream ? video.srcObject.getVideoTracks()[0] : undefined)

function hasLamp(video: HTMLVideoElement | null): boolean {
  const able = trackOf(video)?.getCapabilities?.() as { torch?: boolean } | undefined
  return able?.torch === true
}

async function light(video: HTMLVideoElement | null, on: boolean): Promise<boolean> {
  const wanted = { advanced: [{ torch: on }] } as unknown as MediaTrackConstraints
  return (
    trackOf(video)
      ?.applyConstraints(wanted)
      .then(
        () => on,
        () => false,
      ) ?? false
  )
}
