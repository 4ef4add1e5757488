import { useEffect, useMemo, useState } from 'preact/hooks'
import { EngineDrawing } from '../../parts/engine/EngineDrawing.tsx'
import { drawingOf, sheetFor, sheetsOf, symbolFor, symbolsFor, tallyBySymbol, type DrawnType } from '../../parts/engine/engine_drawings.ts'
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
import { useAsked } from '../frame/useAsked.ts'
import { goTo, useType, useWhere } from '../frame/useJob.ts'
import { count } from '../frame/words.ts'

/** The bench: where one is on the engine, what is there already, what is still wanted, and the three acts of the day. */
export function Bench({ job }: { job: Job }) {
  const [more, setMore] = useState(false)
  const type = useType(job)
  const at = useWhere(job)
  const acts = (
    <>
      <Act name="Say" sign={<Mouth size={34} />} onAct={() => open('say', job.id, AT_ONCE)} />
      <Act name="Picture" main sign={<Camera size={34} />} onAct={() => openCamera(at)} />
      <Act name="Measure" sign={<Dimension size={34} />} onAct={() => open('measure', job.id)} />
      <Act name="More" small sign={<More size={26} />} onAct={() => setMore(true)} />
    </>
  )
  return (
    <Screen title={`Job ${job.number}, ${nameOfPlace(job, at.place, at.point)}`} quiet job={job} acts={acts} full>
      {type ? <Engine job={job} type={type} /> : <NoType />}
      <Thumbs job={job} place={at.place} />
      {more && <MoreSheet job={job} onClose={() => setMore(false)} />}
    </Screen>
  )
}

function NoType() {
  return (
    <p class="inset">
      The engine type of this job has not reached this phone, so there is no drawing yet. Pictures, words and figures can be recorded
      all the same; they go to the job itself.
    </p>
  )
}

function Engine({ job, type }: { job: Job; type: EngineType }) {
  const at = useWhere(job)
  const drawn = type as unknown as DrawnType
  const [sheet, setSheet] = useState(() => sheetFor(drawn, at.place))
  // Turning to another sheet leaves the place; going to another place turns to a sheet that shows it.
  useEffect(() => setSheet((now) => sheetFor(drawn, at.place, now)), [drawn, at.place])
  const room = roomFor(at.place ? 480 : 390)
  const drawing = useMemo(() => drawingOf(drawn, sheet, room), [drawn, sheet, room])
  const sums = useAsked<Record<string, number>>({}, () => tallies(job.id), [job.id])
  const wanted = useWanted(job, type)
  const near = useMemo(() => symbolsFor(drawing, relatedTo(type, at.place)), [drawing, at.place])
  const symbol = symbolFor(drawing, at.place)
  return (
    <>
      <Strip
        name="Sheets of the engine"
        items={sheetsOf(drawn).map((s) => ({ value: s.code, words: s.name }))}
        chosen={sheet}
        onChoose={setSheet}
      />
      <div class="engine-frame">
        <EngineDrawing
          drawing={drawing}
          title={`${type.name}, ${sheetsOf(drawn).find((s) => s.code === sheet)?.name ?? 'block'}`}
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
const SIDES = 20

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
    <div class="here">
      {parts.length > 1 && (
        <Strip name="Parts here" items={parts.map((p) => ({ value: p.code, words: shortName(p) }))} chosen={at.place} onChoose={(code) => goTo(job, code)} />
      )}
      <Points job={job} type={type} />
    </div>
  )
}

const NOTHING: ReadonlySet<string> = new Set()

function useWanted(job: Job, type: EngineType) {
  const at = useWhere(job)
  const ticks = useAsked([], () => checklist(job.id), [job.id])
  const seen = useAsked(NOTHING, () => kindsByPlace(job.id), [job.id])
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
      <button type="button" class="wanted" onClick={() => open('stage', job.id)}>
        <Ring size={18} />
        <span>
          <strong>No stage yet.</strong> Say which stage the job has reached.
        </span>
      </button>
    )
  }
  const here = wanted.items.filter((i) => i.here)
  const rest = wanted.items.length - here.length
  if (wanted.items.length === 0) return <p class="wanted is-done">The checklist of this stage is ticked off.</p>
  return (
    <button type="button" class="wanted" onClick={() => open('stage', job.id)}>
      <Ring size={18} />
      <span>
        {here.length > 0 && (
          <>
            <strong>Still wanted here:</strong> {here.map((i) => lower(i.words)).join('; ')}.{' '}
          </>
        )}
        {rest > 0 && <span class={here.length ? 'soft' : ''}>{here.length ? `${rest} more on the list of this stage.` : `${count(rest, 'thing')} still on the list of this stage.`}</span>}
      </span>
    </button>
  )
}

const lower = (text: string) => text.charAt(0).toLowerCase() + text.slice(1)
