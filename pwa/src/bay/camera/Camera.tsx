import { useEffect, useState } from 'preact/hooks'
import { dropPending } from '../../capture/index.ts'
import { Camera as CameraSign, Frame, Prints } from '../../parts/controls/icons.tsx'
import type { Job } from '../../store/index.ts'
import { Act, BackAct, Screen } from '../frame/Frame.tsx'
import { Live } from './Live.tsx'
import { type Shot, faultOf, forget, openCamera, pendingWords, series } from './pictures.ts'
import { nameOfPlace } from '../frame/places.ts'
import { open } from '../frame/route.ts'
import { useWhere } from '../frame/useJob.ts'
import { say } from '../frame/say.ts'
import { ShotWords } from './ShotWords.tsx'
import './camera.css'

/** Pictures of one place, one after another: by the phone's camera, from the live screen, or out of the gallery. */
export function Camera({ job }: { job: Job }) {
  const at = useWhere(job)
  const [live, setLive] = useState(false)
  const shots = series.value.filter((s) => s.at.job === job.id)
  const last = shots.find(faultOf) ?? shots[0]
  const done = () => {
    pendingWords.value = ''
    void dropPending().catch(() => undefined)
    forget()
    open('bench', job.id)
  }
  useEffect(() => () => setLive(false), [])
  const place = nameOfPlace(job, at.place, at.point)
  if (live) return <Live job={job} at={at} onClose={() => setLive(false)} />
  return (
    <Screen
      title={say('camera.pictures_of', { place })}
      quiet
      job={job}
      full
      acts={
        <>
          <BackAct name={say('camera.to_bench')} onAct={done} />
          <Act name={say('camera.live')} small sign={<Frame size={26} />} onAct={() => setLive(true)} />
          <Act name={last ? say('camera.next') : say('camera.first')} main sign={<CameraSign size={34} />} onAct={() => openCamera(at)} />
          <Act name={say('camera.gallery')} small sign={<Prints size={26} />} onAct={() => openCamera(at, 'gallery')} />
        </>
      }
    >
      <div class="series column">
        {pendingWords.value && (
          <p class="told is-wrong bold" role="status">
            {pendingWords.value}
          </p>
        )}
        <Tray shots={shots} place={place} />
        {last ? <ShownShot key={last.key} shot={last} onAgain={() => openCamera(at)} /> : !pendingWords.value && <p class="inset soft">{say('camera.goes_to', { place })}</p>}
      </div>
    </Screen>
  )
}

/** How many were taken in this sitting, counted as they are saved. */
function Tray({ shots, place }: { shots: Shot[]; place: string }) {
  const saved = shots.filter((s) => s.state === 'saved').length
  const keeping = shots.filter((s) => s.state === 'keeping').length
  if (shots.length === 0) return null
  return (
    <p class="tray" role="status">
      <strong class="figure">{saved}</strong> {say('camera.saved_of', { count: saved, place })}
      {keeping > 0 && <span class="soft">. {say('camera.saving', { count: keeping })}</span>}
    </p>
  )
}

function ShownShot({ shot, onAgain }: { shot: Shot; onAgain: () => void }) {
  const [blank, setBlank] = useState(false)
  return (
    <>
      <figure class="last-shot glass">
        {/* Not drawn while it is being saved: both at once would make the saving slower. */}
        {shot.state === 'keeping' ? null : blank || !shot.url ? (
          <p class="inset">{say('camera.cannot_show')}</p>
        ) : (
          <img class="whole" src={shot.url} alt={shot.state === 'saved' ? say('camera.just_taken_saved') : say('camera.just_taken_not_saved')} onError={() => setBlank(true)} />
        )}
      </figure>
      <ShotWords shot={shot} onAgain={onAgain} />
    </>
  )
}
