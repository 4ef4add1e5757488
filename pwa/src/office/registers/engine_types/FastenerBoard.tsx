import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import type { Fastener } from '../../../trade/engine/parts.ts'
import { say } from '../../frame/say.ts'
import { JointPlan } from '../tightening/JointPlan.tsx'
import { added, drawn, moved, nextLabel, without, written } from './fastener_lines.ts'
import type { TypedJoint } from './form.ts'
import { PlacePattern } from './PlacePattern.tsx'

interface Props {
  joint: TypedJoint
  put: (fasteners: string) => void
  wrong: string
}

/** The fasteners of a joint as a drawing and as lines of text; whichever is changed, the other follows. */
export function FastenerBoard({ joint, put, wrong }: Props) {
  const [chosen, choose] = useState('')
  const fasteners = drawn(joint.fasteners)
  const fastener = fasteners.find(({ label }) => label === chosen)
  const name = joint.name || joint.code
  const add = () => {
    put(added(joint.fasteners))
    choose(String(nextLabel(fasteners)))
  }
  const remove = () => {
    put(without(joint.fasteners, chosen))
    choose('')
  }
  return (
    <div class="joint-board grid-tops">
      <div>
        {fasteners.length > 0 && (
          <>
            <JointPlan
              fasteners={fasteners}
              title={say('engine_types.fasteners_of', { name })}
              chosen={chosen}
              choose={choose}
              move={(label, x, y) => put(moved(joint.fasteners, label, x, y))}
              dimensions
            />
            <p class="soft small">{say('engine_types.plan_help')}</p>
          </>
        )}
        <div class="joint-chosen wraps">
          {fastener && <ChosenFastener fastener={fastener} place={(x, y) => put(moved(joint.fasteners, chosen, x, y))} remove={remove} />}
          <button type="button" onClick={add}>
            {say('engine_types.add_fastener')}
          </button>
        </div>
        <PlacePattern name={name} present={fasteners.length} place={(made) => put(written(made))} />
      </div>
      <Field
        label={say('engine_types.fastener_lines')}
        value={joint.fasteners}
        onValue={put}
        lines={Math.max(6, Math.min(14, fasteners.length + 1))}
        figures
        hint={say('engine_types.fastener_lines_hint')}
        wrong={wrong}
      />
    </div>
  )
}

interface ChosenProps {
  fastener: Fastener
  place: (x_mm: number, y_mm: number) => void
  remove: () => void
}

/** The chosen fastener: its position, steps of a millimetre, and the way out. */
function ChosenFastener({ fastener: { label, x_mm, y_mm }, place, remove }: ChosenProps) {
  return (
    <div class="joint-one wraps" role="group" aria-label={say('engine_types.fastener', { label })}>
      <Millimetres label={say('engine_types.mm_along', { label })} value={x_mm} put={(x) => place(x, y_mm)} />
      <Millimetres label={say('engine_types.mm_across', { label })} value={y_mm} put={(y) => place(x_mm, y)} />
      <div class="nudge">
        <StepButton sign="←" label={say('engine_types.move_left', { label })} step={() => place(x_mm - 1, y_mm)} />
        <StepButton sign="→" label={say('engine_types.move_right', { label })} step={() => place(x_mm + 1, y_mm)} />
        <StepButton sign="↑" label={say('engine_types.move_up', { label })} step={() => place(x_mm, y_mm - 1)} />
        <StepButton sign="↓" label={say('engine_types.move_down', { label })} step={() => place(x_mm, y_mm + 1)} />
      </div>
      <button type="button" class="plain" onClick={remove}>
        {say('engine_types.remove_fastener', { label })}
      </button>
    </div>
  )
}

function StepButton({ sign, label, step }: { sign: string; label: string; step: () => void }) {
  return (
    <button type="button" onClick={step} aria-label={label}>
      {sign}
    </button>
  )
}

/** Whole millimetres; what is being typed stays in the field until it is a number. */
function Millimetres({ label, value, put }: { label: string; value: number; put: (mm: number) => void }) {
  const [text, setText] = useState<string | null>(null)
  return (
    <Field
      label={label}
      value={text ?? String(value)}
      figures
      keys="text"
      onValue={(next) => {
        const sound = /^-?\d{1,4}$/.test(next.trim())
        setText(sound ? null : next)
        if (sound) put(Number(next))
      }}
      wrong={text === null ? '' : say('engine_types.whole_millimetres')}
    />
  )
}
