import { useEffect, useMemo, useState } from 'preact/hooks'
import { EngineDrawing } from '../../parts/engine/EngineDrawing.tsx'
import { drawingOf, viewFor, viewsOf, symbolFor, symbolsFor, tallyBySymbol, type DrawnType } from '../../parts/engine/engine_drawings.ts'
import { WIDTH } from '../../parts/engine/engine_layout.ts'
import { Camera, Dimension, More, Mouth, Ring } from '../../parts/controls/icons.tsx'
import { type EngineType, type Job, checklist, kindsByPlace, tallies } from '../../store/index.ts'
import { STAGES } from '../../trade/engine/stages.ts'
import { Act, Screen } from '../frame/Frame.tsx'
import { MoreSheet } from './MoreSheet.tsx'
import { Points } from './Points.tsx'
import { Strip } from '../frame/Strip.tsx'
import { Thumbs } from '../camera/Thumbs.tsx'
import { openCamera } from '../camera/pictures.ts'
import { fullName, nameOfPlace, relatedTo, shortName, togetherWith, wantedAt } from '../frame/places.ts'
import { AT_ONCE, open } from '../frame/route.ts'
import { useStored } from '../frame/useStored.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { say } from '../frame/say.ts'
import './bench.css'

/** The bench: the place in hand on the engine, what is there already, what is still wanted, and the three acts of the day. */
export function Bench({ job }: { job: Job }) {
  const [more, setMore] = useState(false)
  const type = useType(job)
  const at = useWhere(job)
  const acts = (
    <>
      <Act name={say('bench.say')} sign={<Mouth size={34} />} onAct={() => open('say', job.id, AT_ONCE)} />
      <Act name={say('bench.picture')} main sign={<Camera size={34} />} onAct={() => openCamera(at)} />
      <Act name={say('bench.measure')} sign={<Dimension size={34} />} onAct={() => open('measure', job.id)} />
      <Act name={say('bench.more')} small sign={<More size={26} />} onAct={() => setMore(true)} />
    </>
  )
  return (
    <Screen title={say('bench.title', { number: job.number, place: nameOfPlace(job, at.place, at.point) })} quiet job={job} acts={acts} full>
      {type ? <Engine job={job} type={type} /> : <NoType />}
      <Thumbs job={job} place={at.place} />
      {more && <MoreSheet job={job} onClose={() => setMore(false)} />}
    </Screen>
  )
}

function NoType() {
  return (
    <p class="inset">
      {say('bench.no_type')}
    </p>
  )
}

function Engine({ job, type }: { job: Job; type: EngineType }) {
  const at = useWhere(job)
  const drawn = type as unknown as DrawnType
  const [view, setView] = useState(() => viewFor(drawn, at.place))
  // Turning to another view leaves the place; going to another place turns to a view that shows it.
  useEffect(() => setView((now) => viewFor(drawn, at.place, now)), [drawn, at.place])
  const room = roomFor(at.place ? 480 : 390)
  const drawing = useMemo(() => drawingOf(drawn, view, room), [drawn, view, room])
  const sums = useStored<Record<string, number>>({}, () => tallies(job.id), [job.id])
  const wanted = useWanted(job, type)
  const near = useMemo(() => symbolsFor(drawing, relatedTo(type, at.place)), [drawing, at.place])
  const symbol = symbolFor(drawing, at.place)
  return (
    <>
      <Strip
        name={say('bench.views')}
        items={viewsOf(drawn).map((v) => ({ value: v.code, words: v.name }))}
        chosen={view}
        onChoose={setView}
      />
      <div class="engine-frame keeps">
        <EngineDrawing
          drawing={drawing}
          title={say('bench.drawing', { type: type.name, view: viewsOf(drawn).find((v) => v.code === view)?.name ?? '' })}
          nameOf={(code) => fullName(job, code)}
          chosen={symbol}
          onChoose={(code) => goTo(job, code)}
          tallies={tallyBySymbol(drawing, sums)}
          wanted={symbolsFor(drawing, wanted.places)}
          related={near}
        />
      </div>
      <Here job={job} type={type} />
      <StillWanted job={job} wanted={wanted} />
    </>
  )
}

// The widest the drawing is shown, and its own width: see bench.css and parts/engine_layout.ts.
const WIDEST = 420
const SIDES = 16

/** The height left for the drawing beside `taken` CSS pixels, in drawing units. */
function roomFor(taken: number): number {
  const scale = Math.min(innerWidth - SIDES, WIDEST) / WIDTH
  return Math.max(300, (innerHeight - taken) / scale)
}

/** The parts that lie at the chosen place, and the points on the part in hand. */
function Here({ job, type }: { job: Job; type: EngineType }) {
  const at = useWhere(job)
  const parts = useMemo(() => togetherWith(type, at.place), [type, at.place])
  if (!at.place) return null
  return (
    <div class="here keeps line-over">
      {parts.length > 1 && (
        <Strip name={say('bench.parts_here')} items={parts.map((p) => ({ value: p.code, words: shortName(p) }))} chosen={at.place} onChoose={(code) => goTo(job, code)} />
      )}
      <Points job={job} type={type} />
    </div>
  )
}

const NOTHING: ReadonlySet<string> = new Set()

function useWanted(job: Job, type: EngineType) {
  const at = useWhere(job)
  const ticks = useStored([], () => checklist(job.id), [job.id])
  const seen = useStored(NOTHING, () => kindsByPlace(job.id), [job.id])
  return useMemo(() => {
    const list = STAGES.find((s) => s.code === job.stage)?.checklist ?? []
    const ticked = new Set(ticks.filter((t) => t.ticked).map((t) => `${t.stage}/${t.item}`))
    const around = new Set(togetherWith(type, at.place).map((p) => p.code))
    return wantedAt(type, job.stage, list, ticked, seen, around)
  }, [job.stage, ticks, seen, at.place, type])
}

function StillWanted({ job, wanted }: { job: Job; wanted: ReturnType<typeof useWanted> }) {
  if (!job.stage) {
    return (
      <button type="button" class="wanted in-row small whole keeps" onClick={() => open('stage', job.id)}>
        <Ring size={18} />
        <span>
          <strong>{say('bench.no_stage')}</strong> {say('bench.choose_stage')}
        </span>
      </button>
    )
  }
  const here = wanted.items.filter((i) => i.here)
  const rest = wanted.items.length - here.length
  if (wanted.items.length === 0) return <p class="wanted is-done in-row small whole keeps">{say('bench.all_ticked')}</p>
  return (
    <button type="button" class="wanted in-row small whole keeps" onClick={() => open('stage', job.id)}>
      <Ring size={18} />
      <span>
        {here.length > 0 && (
          <>
            <strong>{say('bench.wanted_here')}</strong> {here.map((i) => lower(i.words)).join('; ')}.{' '}
          </>
        )}
        {rest > 0 && <span class={here.length ? 'soft' : ''}>{here.length ? say('bench.more_wanted', { count: rest }) : say('bench.wanted', { count: rest })}</span>}
      </span>
    </button>
  )
}

const lower = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)
