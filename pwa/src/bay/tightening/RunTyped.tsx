import { useState } from 'preact/hooks'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { FigureKeys } from '../../parts/controls/FigureKeys.tsx'
import type { StageTold } from '../../trade/tightening/run.ts'
import { UNITS } from '../../trade/ground/units.ts'
import { Told } from '../frame/Frame.tsx'
import { unitsFor } from '../frame/quantities.ts'
import { targetWords } from './runWords.ts'
import type { Drafted } from '../frame/useDraft.ts'
import type { RunInHand } from './useRun.ts'

/** The units in which a value of this stage can be read off. */
export const unitsOf = (stage: Pick<StageTold, 'method' | 'unit'>): string[] =>
  stage.method === 'angle' ? unitsFor('angle') : UNITS[stage.unit]?.kind === 'angle' ? [...unitsFor('angle'), ...unitsFor('torque')] : unitsFor('torque')

interface Typing {
  label: string
  value: string
  unit: string
}

/** The value that was read off, in place of the target. What is half typed is kept with every digit. */
export function RunTyped({ hand, stage, draft }: { hand: RunInHand; stage: StageTold; draft: Drafted<Typing> }) {
  const { label, value, unit } = draft.value
  const [choosing, setChoosing] = useState(false)
  const units = unitsOf(stage)
  const said = unit || units[0]!
  const save = async () => {
    if (/\d/.test(value) && (await hand.record(label, { value: value.trim(), unit: said }))) await draft.done()
  }
  return (
    <Sheet title={`Number ${label}, ${stage.words}`} onClose={() => void draft.done()}>
      <form
        class="run-typed"
        onSubmit={(event) => {
          event.preventDefault()
          void save()
        }}
      >
        <p class="small soft">Asked for: {targetWords(stage)}. Type what was reached, whatever it is.</p>
        <div class="run-typed-line">
          <input
            class="grid-input figure"
            inputMode="none"
            autoComplete="off"
            aria-label={`Value of number ${label}`}
            value={value}
            placeholder="0"
            onInput={(event) => draft.change({ value: event.currentTarget.value.replace(',', '.') })}
          />
          <span class="grid-unit">{said}</span>
        </div>
        <Told words={hand.told.wrong ? hand.told.words : ''} wrong />
        {choosing ? (
          <div class="unit-choice">
            {units.map((one) => (
              <button
                key={one}
                type="button"
                aria-pressed={one === said}
                onClick={() => {
                  draft.change({ unit: one })
                  setChoosing(false)
                }}
              >
                {one}
              </button>
            ))}
          </div>
        ) : (
          <FigureKeys value={value} onValue={(next) => draft.change({ value: next })} unit={said} onUnit={() => setChoosing(true)} />
        )}
        <button type="submit" class="wide main-act run-keep" disabled={hand.busy || !/\d/.test(value)}>
          {value ? `Keep ${value} ${said}` : 'Keep'}
        </button>
      </form>
    </Sheet>
  )
}
