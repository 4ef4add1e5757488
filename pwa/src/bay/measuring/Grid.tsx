import { useEffect, useRef, useState } from 'preact/hooks'
import { FigureKeys } from '../../parts/controls/FigureKeys.tsx'
import { GridDrawing, isDrawn } from '../../parts/grid/GridDrawing.tsx'
import { Again } from '../../parts/controls/icons.tsx'
import { type EngineType, type Job, known } from '../../store/index.ts'
import { ofThePart } from '../../trade/measuring/procedures.ts'
import type { Sheet, SheetPlace } from '../../trade/sheets/types.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { GridCell } from './GridCell.tsx'
import { GridCells } from './GridCells.tsx'
import { FigureSheet, GridFigures } from './GridFigures.tsx'
import { GridPlaces } from './GridPlaces.tsx'
import { Cautions, GridSays } from './GridSays.tsx'
import { GaugeSheet, WithRow, WithSheet, type WithWhat } from './GridWith.tsx'
import { SpokenActs } from '../speaking/SpokenFigure.tsx'
import { SpokenGrid, type SpokenInGrid, useSpokenGrid } from './SpokenGrid.tsx'
import { SpokenMessage, TalkAct } from '../speaking/SpokenPanel.tsx'
import { type Cell, headline, isTaken, lastJudged } from './grid.ts'
import { type Grid as State, useGrid } from './useGrid.ts'
import { useType } from '../frame/useJob.ts'
import { capital } from '../frame/words.ts'
import { say } from '../frame/say.ts'
import { UnitSheet } from '../../parts/controls/UnitSheet.tsx'
import './grid.css'
import './figures.css'

/** A procedure carried out over all its places: the drawing says where the gauge goes, the keypad takes the figure. */
export function Grid({ job, code }: { job: Job; code: string }) {
  const type = useType(job)
  if (!type) {
    return (
      <Screen title={say('measure.title')} job={job} acts={<BackAct />}>
        <p>{say('grid.no_type')}</p>
      </Screen>
    )
  }
  return <Measuring key={`${job.id} ${code}`} job={job} type={type} code={code} />
}

interface Opened {
  cell?: string
  figure?: { place: string; code: string }
  what?: WithWhat
}

function Measuring({ job, type, code }: { job: Job; type: EngineType; code: string }) {
  const grid = useGrid(job, type, code)
  const { sheet, place } = grid
  if (sheet && place) return <Sheeted job={job} type={type} code={code} grid={grid} sheet={sheet} place={place} />
  return (
    <Screen title={say('measure.title')} job={job} acts={<BackAct />}>
      {sheet && <p>{say('grid.no_place', { procedure: sheet.name || code })}</p>}
    </Screen>
  )
}

interface SheetedProps {
  job: Job
  type: EngineType
  code: string
  grid: State
  sheet: Sheet
  place: SheetPlace
}

function Sheeted({ job, type, code, grid, sheet, place }: SheetedProps) {
  const [opened, setOpened] = useState<Opened>({})
  const spoken = useSpokenGrid(job, type, code, grid)
  const at = { procedure: sheet.name, place: place.name }
  const title = grid.wanted ? say('grid.title_reading', { ...at, reading: grid.wanted.words }) : say('grid.title', { ...at })
  const taken = new Set(Object.keys(place.readings).filter((reading) => isTaken(place.readings[reading])))
  const before = lastJudged(sheet)
  // Until something can be judged the cautions stand where the verdict will.
  const judged = headline(place) ?? headline(before)
  const middle = useInSight(grid.target, grid.value !== '', judged && `${before?.place} ${before?.done} ${judged.figure.value}`)
  const write = (value: string) => {
    spoken.forget()
    grid.type(value)
  }
  const pickPlace = (to: string) => grid.pick({ place: to, reading: '' })
  const pickReading = (reading: string) => (isTaken(place.readings[reading]) ? setOpened({ cell: reading }) : grid.pick({ place: place.place, reading }))
  return (
    <Screen title={title} quiet job={job} full acts={<Acts grid={grid} spoken={spoken} />}>
      <GridPlaces sheet={sheet} shown={place.place} onPick={pickPlace} />
      <div class="grid-middle scrolls" ref={middle}>
        <WithRow job={job} gauge={grid.gauge} onOpen={(what) => setOpened({ what })} />
        <div class={isDrawn(sheet.drawing) ? 'grid-sheet' : 'grid-sheet is-alone'}>
          <GridDrawing drawing={sheet.drawing} axes={sheet.axes} readings={sheet.readings_asked} next={grid.target?.reading ?? ''} taken={taken} />
          <GridCells sheet={sheet} place={place} target={grid.target} onPick={pickReading} />
        </div>
        {!judged && <Cautions sheet={sheet} />}
        <GridSays place={place} before={before} onOpen={(at, figure) => setOpened({ figure: { place: at, code: figure } })} />
        {judged && <Cautions sheet={sheet} />}
        <GridFigures sheet={sheet} place={place} onOpen={(figure) => setOpened({ figure: { place: place.place, code: figure } })} />
        <About code={code} />
      </div>
      <div class="grid-hand keeps">
        <Value grid={grid} spoken={spoken} onValue={write} />
        <FigureKeys value={grid.value} onValue={write} unit={grid.unit} onUnit={() => setOpened({ what: 'unit' })} />
        <SpokenGrid grid={grid} spoken={spoken} />
      </div>
      <Over job={job} code={code} grid={grid} opened={opened} onClose={() => setOpened({})} />
    </Screen>
  )
}

/**
 * Brings the lit cell into sight, and between two readings a fresh verdict: on a short screen both do not fit. The verdict
 * stands until the next figure is begun or another cell is picked, whichever the store shows first of the reading and its
 * figures. At once and not gliding: nothing moves for those who prefer less motion.
 */
function useInSight(target: Cell | null, typing: boolean, verdict: string | null) {
  const middle = useRef<HTMLDivElement>(null)
  const before = useRef({ verdict, typing })
  const fresh = useRef(false)
  useEffect(() => {
    const was = before.current
    before.current = { verdict, typing }
    if (was.verdict !== verdict) fresh.current = verdict !== null
    else if (!was.typing) fresh.current = false
    const what = fresh.current ? '.grid-says' : '.grid-cell.is-next'
    middle.current?.querySelector(what)?.scrollIntoView({ block: 'nearest' })
  }, [target?.place, target?.reading, typing, verdict])
  return middle
}

/** What the procedure can see and what it cannot, as it stands with the procedure. */
function About({ code }: { code: string }) {
  const about = known.value.procedures[code]?.data.about
  if (!about) return null
  return (
    <details class="place-group grid-about">
      <summary>{say('grid.about')}</summary>
      <p class="small">{about}</p>
    </details>
  )
}

// Longer words take a line of their own above the figure.
const LONG = 17

/** What is wanted, what is typed, and what is wrong with it: never out of sight. */
function Value({ grid, spoken, onValue }: { grid: State; spoken: SpokenInGrid; onValue: (value: string) => void }) {
  const { wanted, sheet, place, value, repeat, question, wrong, message } = grid
  const needed = sheet!.readings_asked.filter((r) => !r.optional)
  const at = needed.findIndex((r) => r.code === wanted?.code)
  return (
    <div class="grid-value keeps thick-over">
      {question && (
        <p class="grid-question along bold washed close-set" role="alert">
          <span>{question}</span>
          <button class="keeps" type="button" onClick={grid.drop}>
            {say('grid.type_again')}
          </button>
        </p>
      )}
      <SpokenMessage spoken={spoken} />
      <StatusMessage words={spoken.message.words ? '' : wrong || message.words} wrong={Boolean(wrong) || message.wrong} />
      <div class={(wanted?.words.length ?? 0) > LONG ? 'grid-line is-long' : 'grid-line'}>
        <label class="grid-asked" for="grid-value">
          <strong>{wanted ? capital(wanted.words) : grid.onward ? say('grid.all_here') : say('grid.all')}</strong>
          <span class="small soft">
            {repeat
              ? say('grid.repeat', { place: place!.name, number: repeat })
              : at >= 0
                ? say('grid.which', { place: place!.name, number: at + 1, all: needed.length })
                : place!.name}
          </span>
        </label>
        <input
          id="grid-value"
          class={`grid-input figure${value.length > 8 ? ' is-long' : ''}`}
          inputMode="none"
          autoComplete="off"
          enterKeyHint="done"
          disabled={!wanted}
          value={value}
          placeholder={wanted ? '0' : ''}
          onInput={(event) => onValue(event.currentTarget.value)}
          onKeyDown={(event) => event.key === 'Enter' && void grid.save()}
        />
        <span class="grid-unit large">{grid.unit}</span>
      </div>
    </div>
  )
}

/** Saving what is typed, or what was spoken; the button to speak by is always the last, where the thumb expects it. */
function Acts({ grid, spoken }: { grid: State; spoken: SpokenInGrid }) {
  return (
    <>
      {spoken.phase === 'proposed' ? (
        <SpokenActs spoken={spoken} ready={spoken.ready} busy={grid.busy} odd={spoken.warning !== ''} onRecord={() => void spoken.record()} />
      ) : (
        <TypedActs grid={grid} />
      )}
      <TalkAct spoken={spoken} />
    </>
  )
}

function TypedActs({ grid }: { grid: State }) {
  const { onward } = grid
  const name = grid.busy ? say('common.saving') : grid.question ? say('common.save_as_it_is') : say('common.save_next')
  const there = onward && grid.sheet?.places.find((p) => p.place === onward.place)?.name
  return (
    <>
      <BackAct />
      <Act name={say('common.again')} small sign={<Again size={26} />} off={!grid.latest} onAct={() => grid.again()} />
      {grid.target || !onward ? (
        <Act name={name} main off={grid.busy || !grid.target || grid.value.trim() === ''} onAct={() => void grid.save()} />
      ) : (
        <Act name={say('grid.on_to', { place: there || '' })} main onAct={() => grid.pick(onward)} />
      )}
    </>
  )
}

function Over({ job, code, grid, opened, onClose }: { job: Job; code: string; grid: State; opened: Opened; onClose: () => void }) {
  const sheet = grid.sheet!
  const place = grid.place!
  if (opened.cell) {
    const wanted = sheet.readings_asked.find((r) => r.code === opened.cell)
    const taken = place.readings[opened.cell]
    if (!wanted || !taken) return null
    const again = () => {
      grid.pick({ place: place.place, reading: wanted.code }, !taken.borrowed)
      onClose()
    }
    return <GridCell job={job} place={place} reading={wanted} taken={taken} onAgain={again} onClose={onClose} />
  }
  if (opened.figure) {
    const at = sheet.places.find((p) => p.place === opened.figure!.place)
    const figure = at?.figures.find((f) => f.code === opened.figure!.code)
    return at && figure ? <FigureSheet sheet={sheet} place={at} figure={figure} onClose={onClose} /> : null
  }
  if (opened.what === 'unit') return <UnitSheet units={grid.units} now={grid.unit} onChoose={grid.chooseUnit} onClose={onClose} />
  if (opened.what === 'gauge') {
    const [size, unit] = sizeInHand(sheet, place, grid.quantity)
    return <GaugeSheet procedure={code} quantity={grid.quantity} amount={size} unit={unit} now={grid.gauge} onClose={onClose} />
  }
  if (!opened.what) return null
  const procedure = known.value.procedures[code]?.data
  const reading = grid.target?.reading ?? sheet.readings_asked[0]?.code ?? ''
  // The stated material is that of the part itself, never of what runs in it.
  const material = procedure && ofThePart(procedure, reading) ? sheet.sizes.material?.values[0] : undefined
  return <WithSheet job={job} code={code} walk={grid.walk} remark={grid.remark} onRemark={grid.write} material={material} onClose={onClose} />
}

/** About how large it is that will be read: as a reading here shows, else the maker's nominal size; '' when not known. */
function sizeInHand(sheet: Sheet, place: SheetPlace, quantity: string): [string, string] {
  const like = sheet.readings_asked.find((r) => r.quantity === quantity && isTaken(place.readings[r.code]))
  const taken = like && place.readings[like.code]
  const nominal = quantity === sheet.readings_asked[0]?.quantity ? sheet.sizes.nominal : undefined
  return taken ? [taken.mean, taken.unit] : [nominal?.values[0] ?? '', nominal?.unit ?? '']
}
