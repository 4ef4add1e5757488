import { useEffect, useMemo, useRef, useState } from 'preact/hooks'
import { Choice } from '../../parts/controls/Field.tsx'
import { Sheet as Over } from '../../parts/controls/Sheet.tsx'
import type { EngineType, Job } from '../../store/index.ts'
import { odd } from '../../trade/sheets/odd_reading.ts'
import type { Screen } from '../../trade/spoken/types.ts'
import { SpokenFigure } from '../speaking/SpokenFigure.tsx'
import { SpokenPanel } from '../speaking/SpokenPanel.tsx'
import { type Cell, isTaken, missingAt } from './grid.ts'
import { quantityWords, unitsFor } from '../frame/quantities.ts'
import { type Part, wanting, whyNoFigure } from '../speaking/spoken.ts'
import type { Grid } from './useGrid.ts'
import { type Spoken, useSpoken } from '../speaking/useSpoken.ts'
import { say } from '../frame/say.ts'
import { cellFor } from './spokenCell.ts'

/** Speaking into a procedure: which cell a spoken figure belongs to, and what is still to be chosen before it is saved. */
export function useSpokenGrid(job: Job, type: EngineType, code: string, grid: Grid) {
  const { sheet, target, wanted, place } = grid
  const at = { job: job.id, place: place?.place ?? '', point: wanted?.words ?? '' }
  // The point stays with the recording; a proposal's point is then one that was spoken.
  const screen: Screen = { sort: 'measure', place: at.place, point: '', procedure: code, reading: target?.reading ?? '', quantity: grid.quantity, units: grid.units }
  const spoken = useSpoken({ at, type, screen, about: { procedure: code, reading: screen.reading }, why: whyNoFigure })
  // Chosen by hand; it counts before anything that was understood.
  const [chosen, setChosen] = useState<Cell | null>(null)
  const { proposal, phase } = spoken
  // What was lit when it was spoken: by the time it is understood, that may have moved on.
  const lit = useRef(target)
  if (phase === 'still' || phase === 'opening') lit.current = target
  useEffect(() => {
    if (!proposal) setChosen(null)
  }, [proposal === null])
  const belongs = useMemo(() => {
    if (!proposal || !sheet) return { cell: null, why: '' }
    if (chosen) return { cell: chosen, why: '' }
    return cellFor(sheet, proposal, lit.current, (where) => missingAt(grid.order, grid.has, where))
  }, [proposal, sheet, chosen])
  const reading = sheet?.readings_asked.find(({ code }) => code === belongs.cell?.reading)
  const quantity = reading?.quantity ?? grid.quantity
  const wants: Part[] = proposal ? wanting(proposal, { place: belongs.cell?.place ?? '', quantity, units: unitsFor(quantity) }) : []
  const ready = Boolean(proposal && belongs.cell && wants.length === 0)
  const warning = ready && sheet ? odd(sheet, belongs.cell!.place, belongs.cell!.reading, proposal!.value, proposal!.unit) : ''
  const record = async () => {
    if (!ready || !spoken.heard) return
    if (await grid.saveSpoken(belongs.cell!, proposal!.value, proposal!.unit, spoken.heard)) spoken.putAway()
  }
  return { ...spoken, cell: belongs.cell, fault: belongs.why, reading, quantity, wants, ready, warning, record, choose: setChosen }
}

export type SpokenInGrid = ReturnType<typeof useSpokenGrid>

/** What was understood on a procedure's screen: over the keys, and no higher than it needs to be. */
export function SpokenGrid({ grid, spoken }: { grid: Grid; spoken: SpokenInGrid }) {
  const [choosing, setChoosing] = useState(false)
  const { sheet } = grid
  const { cell, reading } = spoken
  const at = sheet?.places.find(({ place }) => place === cell?.place)
  const taken = at && reading ? at.readings[reading.code] : undefined
  const again = isTaken(taken) && !taken.borrowed ? say('grid.reading_number', { number: taken.n + 1 }) : ''
  const of = [grid.place?.name, grid.wanted?.words].filter(Boolean).join(', ')
  return (
    <SpokenPanel spoken={spoken as Spoken} of={of}>
      <SpokenFigure
        spoken={spoken as Spoken}
        place={at && reading ? [at.name, reading.words, again].filter(Boolean).join(', ') : ''}
        what={quantityWords(spoken.fault ? spoken.proposal!.quantity : spoken.quantity)}
        hidden={spoken.proposal?.quantity_spoken ? undefined : 'quantity'}
        units={unitsFor(spoken.quantity)}
        wants={spoken.fault ? [] : spoken.wants}
        warning={spoken.warning}
        fault={spoken.fault}
        onPlace={() => setChoosing(true)}
      />
      {choosing && <CellSheet grid={grid} spoken={spoken} onClose={() => setChoosing(false)} />}
    </SpokenPanel>
  )
}

/** The cell that it belongs to, chosen by hand: a place of this sheet and one of its readings. */
function CellSheet({ grid, spoken, onClose }: { grid: Grid; spoken: SpokenInGrid; onClose: () => void }) {
  const sheet = grid.sheet!
  const place = spoken.cell?.place ?? grid.place!.place
  const reading = spoken.cell?.reading ?? sheet.readings_asked[0]!.code
  const choose = (cell: Cell) => {
    spoken.choose(cell)
    spoken.change('place', (before) => before)
  }
  return (
    <Over title={say('speaking.where_it_belongs')} onClose={onClose}>
      <div class="form said-where">
        <Choice label={say('speaking.place')} options={sheet.places.map(({ place, name }) => ({ value: place, words: name }))} chosen={[place]} onChoose={(to) => choose({ place: to, reading })} />
        <Choice label={say('speaking.reading')} options={sheet.readings_asked.map(({ code, words }) => ({ value: code, words }))} chosen={[reading]} onChoose={(to) => choose({ place, reading: to })} />
        <button type="button" class="wide main-act" onClick={onClose}>
          {say('common.done')}
        </button>
      </div>
    </Over>
  )
}
