import { useState } from 'preact/hooks'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { FigureKeys } from '../../parts/controls/FigureKeys.tsx'
import type { StageState } from '../../trade/tightening/run.ts'
import { UNITS } from '../../trade/ground/units.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { unitsFor } from '../frame/quantities.ts'
import { targetWords } from './runWords.ts'
import type { Drafted } from '../frame/useDraft.ts'
import type { RunInHand } from './useRun.ts'
import { say } from '../frame/say.ts'

/** The units in which a value of this stage can be read off. */
export const unitsOf = (stage: Pick<StageState, 'method' | 'unit'>): string[] =>
  stage.method === 'angle' ? unitsFor('angle') : UNITS[stage.unit]?.kind === 'angle' ? [...unitsFor('angle'), ...unitsFor('torque')] : unitsFor('torque')

interface Typing {
  label: string
  value: string
  unit: string
}

/** The value that was read off, in place of the target. What is half typed is stored with every digit. */
export function RunTyped({ hand, stage, draft }: { hand: RunInHand; stage: StageState; draft: Drafted<Typing> }) {
  const { label, value, unit } = draft.value
  const [choosing, setChoosing] = useState(false)
  const units = unitsOf(stage)
  const inUnit = unit || units[0]!
  const save = async () => {
    if (/\d/.test(value) && (await hand.record(label, { value: value.trim(), unit: inUnit }))) await draft.done()
  }
  return (
    <Sheet title={say('run.number_in_stage', { number: label, stage: stage.words })} onClose={() => void draft.done()}>
      <form
        class="run-typed"
        onSubmit={(event) => {
          event.preventDefault()
          void save()
        }}
      >
        <p class="small soft">{say('run.type_what_was_reached', { target: targetWords(stage) })}</p>
        <div class="run-typed-line in-row below-4">
          <input
            class="grid-input figure"
            inputMode="none"
            autoComplete="off"
            aria-label={say('run.value_of', { number: label })}
            value={value}
            placeholder="0"
            onInput={(event) => draft.change({ value: event.currentTarget.value.replace(',', '.') })}
          />
          <span class="grid-unit large">{inUnit}</span>
        </div>
        <StatusMessage words={hand.message.wrong ? hand.message.words : ''} wrong />
        {choosing ? (
          <div class="unit-choice">
            {units.map((offered) => (
              <button
                key={offered}
                type="button"
                aria-pressed={offered === inUnit}
                onClick={() => {
                  draft.change({ unit: offered })
                  setChoosing(false)
                }}
              >
                {offered}
              </button>
            ))}
          </div>
        ) : (
          <FigureKeys value={value} onValue={(next) => draft.change({ value: next })} unit={inUnit} onUnit={() => setChoosing(true)} />
        )}
        <button type="submit" class="wide main-act run-keep larger above-4" disabled={hand.busy || !/\d/.test(value)}>
          {value ? say('run.save_value', { value: `${value} ${inUnit}` }) : say('common.save')}
        </button>
      </form>
    </Sheet>
  )
}
