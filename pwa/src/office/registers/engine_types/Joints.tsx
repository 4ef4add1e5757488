import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { FASTENER_PARTS } from '../../../trade/engine/parts.ts'
import type { Fault } from '../../../trade/ground/errors.ts'
import { JointPlan } from '../tightening/JointPlan.tsx'
import { count } from '../../frame/words.ts'
import { faultsAt } from '../../frame/words.ts'
import type { TypedJoint } from './form.ts'
import { Spread } from './Spread.tsx'
import { drawn, moved, nextLabel, without, written } from './spread.ts'

interface JointsProps {
  joints: TypedJoint[]
  put: (joints: TypedJoint[]) => void
  faults: Fault[]
}

/** The joints of an engine type and where their fasteners stand: typed, dragged, or made by rows or a circle. */
export function Joints({ joints, put, faults }: JointsProps) {
  const set = (index: number, news: Partial<TypedJoint>) => put(joints.map((one, i) => (i === index ? { ...one, ...news } : one)))
  return (
    <fieldset class="group">
      <legend>Joints and their fasteners</legend>
      {joints.map((joint, i) => (
        <Opened key={i} start={!joint.fasteners} forced={Boolean(faultsAt(faults, `joints.${i}`))}>
          <summary>
            {joint.name || joint.code} <span class="soft">{count(drawn(joint.fasteners).length, 'fastener')}</span>
          </summary>
          <div class="row row-joint">
            <Field
              label="Code"
              value={joint.code}
              onValue={(code) => set(i, { code })}
              suggestions={FASTENER_PARTS.map((code) => `${code}/A`)}
              wrong={faultsAt(faults, `joints.${i}.code`)}
            />
            <Field
              label="Name"
              value={joint.name}
              onValue={(name) => set(i, { name })}
              wrong={faultsAt(faults, `joints.${i}.name`)}
            />
          </div>
          <Board joint={joint} put={(fasteners) => set(i, { fasteners })} wrong={faultsAt(faults, `joints.${i}.fasteners`)} />
          <button type="button" class="plain" onClick={() => put(joints.filter((_, n) => n !== i))} aria-label={`Leave out this joint: ${joint.name}`}>
            leave out this joint
          </button>
        </Opened>
      ))}
      <button
        type="button"
        class="plain"
        onClick={() => put([...joints, { code: 'head_bolt/A', name: 'Head, bank A', fasteners: '' }])}
      >
        Add a joint
      </button>
    </fieldset>
  )
}

/** Opens where there is something to write or to put right, and then stays as the reader leaves it. */
function Opened({ start, forced, children }: { start: boolean; forced: boolean; children: ComponentChildren }) {
  const [open, setOpen] = useState(start || forced)
  return (
    <details class="joint" open={open || forced} onToggle={(event) => setOpen(event.currentTarget.open)}>
      {children}
    </details>
  )
}

interface BoardProps {
  joint: TypedJoint
  put: (fasteners: string) => void
  wrong: string
}

/** The drawing and the lines say the same; whichever is changed, the other follows. */
function Board({ joint, put, wrong }: BoardProps) {
  const [chosen, choose] = useState('')
  const fasteners = drawn(joint.fasteners)
  const one = fasteners.find(({ label }) => label === chosen)
  const name = joint.name || joint.code
  const place = (x: number, y: number) => put(moved(joint.fasteners, chosen, x, y))
  const add = () => {
    const label = String(nextLabel(fasteners))
    const [left, foot] = [Math.min(0, ...fasteners.map(({ x_mm }) => x_mm)), Math.max(0, ...fasteners.map(({ y_mm }) => y_mm))]
    put([joint.fasteners.trimEnd(), `${label} ${fasteners.length ? left : 0} ${fasteners.length ? foot + 30 : 0}`].filter(Boolean).join('\n'))
    choose(label)
  }
  return (
    <div class="joint-board">
      <div>
        {fasteners.length > 0 && (
          <>
            <JointPlan
              fasteners={fasteners}
              title={`Fasteners of ${name}`}
              chosen={chosen}
              choose={choose}
              move={(label, x, y) => put(moved(joint.fasteners, label, x, y))}
              dimensions
            />
            <p class="soft small">
              Millimetres from the middle of the joint, along to the right and across downwards. Drag a fastener; or choose it, then
              touch the paper where it goes, or step it with the arrow keys.
            </p>
          </>
        )}
        <div class="joint-chosen">
          {one && (
            <One label={one.label}>
              <Millimetres label={`${one.label}: mm along`} value={one.x_mm} put={(x) => place(x, one.y_mm)} />
              <Millimetres label={`${one.label}: mm across`} value={one.y_mm} put={(y) => place(one.x_mm, y)} />
              <Nudge label={one.label} by={(dx, dy) => place(one.x_mm + dx, one.y_mm + dy)} />
              <button
                type="button"
                class="plain"
                onClick={() => {
                  put(without(joint.fasteners, chosen))
                  choose('')
                }}
              >
                leave out {one.label}
              </button>
            </One>
          )}
          <button type="button" onClick={add}>
            Add a fastener
          </button>
        </div>
        <Spread name={name} present={fasteners.length} take={(made) => put(written(made))} />
      </div>
      <Field
        label="Fasteners"
        value={joint.fasteners}
        onValue={put}
        lines={Math.max(6, Math.min(14, fasteners.length + 1))}
        figures
        hint="A line each: label, mm along, mm across."
        wrong={wrong}
      />
    </div>
  )
}

function One({ label, children }: { label: string; children: ComponentChildren }) {
  return (
    <div class="joint-one" role="group" aria-label={`Fastener ${label}`}>
      {children}
    </div>
  )
}

/** Whole millimetres; what is being typed stays on the sheet until it is a number. */
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
      wrong={text === null ? '' : 'Whole millimetres, such as -46.'}
    />
  )
}

const STEPS: [string, string, number, number][] = [
  ['←', 'left', -1, 0],
  ['→', 'right', 1, 0],
  ['↑', 'up', 0, -1],
  ['↓', 'down', 0, 1],
]

function Nudge({ label, by }: { label: string; by: (dx: number, dy: number) => void }) {
  return (
    <div class="nudge">
      {STEPS.map(([sign, words, dx, dy]) => (
        <button key={words} type="button" onClick={() => by(dx, dy)} aria-label={`Move ${label} 1 mm ${words}`}>
          {sign}
        </button>
      ))}
    </div>
  )
}
