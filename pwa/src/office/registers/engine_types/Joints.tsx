import type { ComponentChildren } from 'preact'
import { useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { FASTENER_PARTS } from '../../../trade/engine/parts.ts'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import { say } from '../../frame/say.ts'
import { faultsAt } from '../form/faults.ts'
import { Group } from '../form/Group.tsx'
import { changedAt, withoutAt } from '../form/lists.ts'
import { drawn } from './fastener_lines.ts'
import { FastenerBoard } from './FastenerBoard.tsx'
import type { TypedJoint } from './form.ts'
import './joints.css'

interface Props {
  joints: TypedJoint[]
  put: (joints: TypedJoint[]) => void
  faults: FieldFault[]
}

/** The joints of an engine type and where their fasteners are: typed, dragged, or placed in rows or on a circle. */
export function Joints({ joints, put, faults }: Props) {
  const addJoint = () => put([...joints, { code: 'head_bolt/A', name: say('engine_types.new_joint_name'), fasteners: '' }])
  return (
    <Group name={say('engine_types.joints')} add={say('engine_types.add_joint')} onAdd={addJoint}>
      {joints.map((joint, i) => (
        <Opened key={i} start={!joint.fasteners} forced={Boolean(faultsAt(faults, `joints.${i}`))}>
          <summary>
            {joint.name || joint.code} <span class="soft">{say('engine_types.fasteners', { count: drawn(joint.fasteners).length })}</span>
          </summary>
          <JointFields
            joint={joint}
            change={(changes) => put(changedAt(joints, i, changes))}
            wrong={(field) => faultsAt(faults, `joints.${i}.${field}`)}
          />
          <button
            type="button"
            class="plain"
            onClick={() => put(withoutAt(joints, i))}
            aria-label={say('engine_types.remove_joint_name', { name: joint.name })}
          >
            {say('engine_types.remove_joint')}
          </button>
        </Opened>
      ))}
    </Group>
  )
}

interface JointProps {
  joint: TypedJoint
  change: (changes: Partial<TypedJoint>) => void
  wrong: (field: string) => string
}

function JointFields({ joint, change, wrong }: JointProps) {
  return (
    <>
      <div class="row row-joint">
        <Field
          label={say('registers.code')}
          value={joint.code}
          onValue={(code) => change({ code })}
          suggestions={FASTENER_PARTS.map((code) => `${code}/A`)}
          wrong={wrong('code')}
        />
        <Field label={say('common.name')} value={joint.name} onValue={(name) => change({ name })} wrong={wrong('name')} />
      </div>
      <FastenerBoard joint={joint} put={(fasteners) => change({ fasteners })} wrong={wrong('fasteners')} />
    </>
  )
}

/** Opens where something is missing or wrong, and then stays as the reader leaves it. */
function Opened({ start, forced, children }: { start: boolean; forced: boolean; children: ComponentChildren }) {
  const [open, setOpen] = useState(start || forced)
  return (
    <details class="joint" open={open || forced} onToggle={(event) => setOpen(event.currentTarget.open)}>
      {children}
    </details>
  )
}
