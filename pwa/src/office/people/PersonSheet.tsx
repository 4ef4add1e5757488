import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { ApiError, post } from '../frame/api.ts'
import { FaultNotice } from '../frame/notices.tsx'
import { PIN_DIGITS } from '../../trade/ground/pins.ts'
import { say } from '../frame/say.ts'
import { me } from '../frame/session.ts'
import type { Person } from '../frame/shapes.ts'
import { Sheet } from '../frame/Sheet.tsx'

interface Typed {
  name: string
  role: string
  password: string
  present: string
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
    ...{ name: person?.name ?? '', role: person?.role ?? 'technician', password: '', present: '', pin: '' },
    active: person?.active !== false,
  })
  const [fault, setFault] = useState('')
  const self = person !== null && person.id === me.value?.person.id
  const put = (changes: Partial<Typed>) => setTyped((before) => ({ ...before, ...changes }))
  const send = async (event: Event) => {
    event.preventDefault()
    if (!typed.name.trim()) return setFault(say('people.name_missing'))
    const { least, most } = pinDigits(typed.role)
    if (typed.pin && !(/^\d+$/.test(typed.pin) && typed.pin.length >= least && typed.pin.length <= most))
      return setFault(say('people.pin_length', { least, most }))
    if (self && typed.password && !typed.present) return setFault(say('people.present_password_missing'))
    try {
      await save(person, typed)
      close()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  return (
    <Sheet title={person ? say('people.change', { name: person.name }) : say('people.add')} close={close}>
      <form noValidate class="block halves" onSubmit={send}>
        <PersonFields typed={typed} put={put} person={person} self={self} />
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

const pinDigits = (role: string) => PIN_DIGITS[role === 'manager' ? 'manager' : 'technician']

/** Throws ApiError. An empty password or PIN changes nothing. */
async function save(person: Person | null, { name, role, password, present, pin, active }: Typed): Promise<void> {
  const secrets = { ...(password ? { password } : {}), ...(pin ? { pin } : {}) }
  const old = password && present ? { old_password: present } : {}
  if (person) await post(`/api/people/${person.id}`, { name: name.trim(), role, active, ...secrets, ...old })
  else await post('/api/people', { name: name.trim(), role, ...secrets })
}

interface FieldsProps {
  typed: Typed
  put: (changes: Partial<Typed>) => void
  /** null for a new person; one in the list already may have a password and a PIN. */
  person: Person | null
  /** Whether it is who is signed in: their own password is changed by whoever knows it. */
  self: boolean
}

function PersonFields({ typed, put, person, self }: FieldsProps) {
  const known = person !== null
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
      {self && typed.password && (
        <Field label={say('people.present_password')} value={typed.present} onValue={(present) => put({ present })} secret fill="current-password" needed />
      )}
      <Field
        label={known ? say('people.new_pin') : say('people.pin')}
        value={typed.pin}
        onValue={(pin) => put({ pin })}
        secret
        fill="off"
        hint={pinHint(person, typed.role)}
      />
    </>
  )
}

function pinHint(person: Person | null, role: string): string {
  const digits = pinDigits(role)
  if (!person?.has_pin) return say('people.pin_hint', digits)
  // Nobody can tell from what is stored whether a technician's PIN is long enough for a manager: the server takes it away.
  if (role === 'manager' && person.role !== 'manager') return say('people.pin_hint_new_manager', digits)
  return say('people.pin_hint_known', digits)
}
