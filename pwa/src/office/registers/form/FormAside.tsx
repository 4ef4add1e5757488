import type { ComponentChildren } from 'preact'
import type { FieldFault } from '../../../trade/ground/errors.ts'
import { FaultNotice } from '../../frame/notices.tsx'
import { say } from '../../frame/say.ts'

interface Props {
  name: string
  /** The state of what is typed, in one sentence. */
  status: string
  /** What belongs to no field. */
  fault: string | undefined
  /** All faults, where they are listed. */
  list?: ComponentChildren
  onCancel: () => void
  children: ComponentChildren
}

/** Beside a large form: its state, its buttons, and what it describes as a drawing. */
export function FormAside({ name, status, fault, list, onCancel, children }: Props) {
  return (
    <aside class="type-form-drawing" aria-label={name}>
      <p role="status" class="bold above-5">
        {status}
      </p>
      {list}
      <FaultNotice>{fault}</FaultNotice>
      <div class="acts">
        <button class="main-act">{say('common.save')}</button>
        <button type="button" class="plain" onClick={onCancel}>
          {say('common.cancel')}
        </button>
      </div>
      {children}
    </aside>
  )
}

export function FaultList({ faults }: { faults: FieldFault[] }) {
  if (!faults.length) return null
  return (
    <ul class="fault-list" aria-label={say('registers.fault_list')}>
      {faults.map(({ where, message }) => (
        <li class="noted" key={where + message}>{message}</li>
      ))}
    </ul>
  )
}
