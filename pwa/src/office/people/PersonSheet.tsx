import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { ApiError, post } from '../frame/api.ts'
import { FaultNotice } from '../frame/notices.tsx'
import { say } from '../frame/say.ts'
import { me } from '../frame/session.ts'
import type { Person } from '../frame/shapes.ts'
import { Sheet } from '../frame/Sheet.tsx'

interface Typed {
  name: string
  role: string
  password: string
  pin: string
  active: boolean
}

interface Props {
  /** null for a new person. */
  person: Person | null
  close: () => void
}

/** Adds a person or changes one. */
export function PersonSheet({ person, close }: Props) {
  const [typed, setTyped] = useState<Typed>({
    ...{ name: person?.name ?? '', role: person?.role ?? 'technician', password: '', pin: '' },
    active: person?.active !== false,
  })
  const [fault, setFault] = useState('')
  const put = (changes: Partial<Typed>) => setTyped((before) => ({ ...before, ...changes }))
  const send = async (event: Event) => {
    event.preventDefault()
    if (!typed.name.trim()) return setFault(say('people.name_missing'))
    if (typed.pin && !/^\d{4,8}$/.test(typed.pin)) return setFault(say('people.pin_length'))
    try {
      await save(person, typed)
      close()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const self = person?.id === me.value?.person.id
  return (
    <Sheet title={person ? say('people.change', { name: person.name }) : say('people.add')} close={close}>
      <form noValidate class="block halves" onSubmit={send}>
        <PersonFields typed={typed} put={put} known={Boolean(person)} />
        {person && !self && (
          <label class="wide tick along">
            <input type="checkbox" checked={typed.active} onChange={(event) => put({ active: event.currentTarget.checked })} />
            <span>{say('people.active_tick')}</span>
          </label>
        )}
        <FaultNotice>{fault}</FaultNotice>
        <div class="acts">
          <button class="main-act">{say('common.save')}</button>
        </div>
      </form>
    </Sheet>
  )
}

/** Throws ApiError. An empty password or PIN changes nothing. */
async function save(person: Person | null, { name, role, password, pin, active }: Typed): Promise<void> {
  const secrets = { ...(password ? { password } : {}), ...(pin ? { pin } : {}) }
  if (person) await post(`/api/people/${person.id}`, { name: name.trim(), role, active, ...secrets })
  else await post('/api/people', { name: name.trim(), role, ...secrets })
}

interface FieldsProps {
  typed: Typed
  put: (changes: Partial<Typed>) => void
  /** The person is in the list already, perhaps with a password and a PIN. */
  known: boolean
}

function PersonFields({ typed, put, known }: FieldsProps) {
  const roles = [
    { value: 'technician', words: say('people.technician_may') },
    { value: 'manager', words: say('people.manager_may') },
  ]
  return (
    <>
      <Field label={say('common.name')} value={typed.name} onValue={(name) => put({ name })} needed />
      <Field label={say('people.role')} value={typed.role} onValue={(role) => put({ role })} options={roles} />
      <Field
        label={known ? say('people.new_password') : say('frame.password')}
        value={typed.password}
        onValue={(password) => put({ password })}
        secret
        fill="new-password"
        hint={known ? say('people.keep_old') : say('people.password_hint')}
      />
      <Field
        label={known ? say('people.new_pin') : say('people.pin')}
        value={typed.pin}
        onValue={(pin) => put({ pin })}
        secret
        fill="off"
        hint={known ? say('people.keep_old') : say('people.pin_hint')}
      />
    </>
  )
}
