import { PageHead } from '../frame/PageHead.tsx'
import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { post, ApiError } from '../frame/api.ts'
import { Fault } from '../frame/Say.tsx'
import { Sheet } from '../frame/Sheet.tsx'
import { useAsk } from '../frame/useAsk.ts'
import { me } from '../frame/session.ts'
import type { Person } from '../frame/shapes.ts'

/** Who works here: names, what they may do, and how they sign in. */
export function People() {
  const { told, trouble, again } = useAsk<{ people: Person[] }>('/api/people')
  const [open, setOpen] = useState<Person | 'new' | null>(null)
  return (
    <section class="page people-page" aria-labelledby="people-title">
      <PageHead
        id="people-title"
        title="People"
        acts={
          <>
            <button type="button" class="main-act" onClick={() => setOpen('new')}>
              Add a person
            </button>
          </>
        }
      />
      <p class="page-words">
        Names stand here and not in the log, so a name can be corrected or taken away later. A password opens the
        office, a PIN a shared phone.
      </p>
      <Fault>{trouble?.message}</Fault>
      <ul class="people">
        {told?.people.map((person) => (
          <li key={person.id} class={person.active === false ? 'is-away' : ''}>
            <b>{person.name}</b>
            <span>{person.role}</span>
            <span class="soft">{ways(person)}</span>
            <button type="button" onClick={() => setOpen(person)} aria-label={`Change ${person.name}`}>
              Change
            </button>
          </li>
        ))}
      </ul>
      {open && (
        <PersonSheet
          person={open === 'new' ? null : open}
          close={() => {
            setOpen(null)
            again()
          }}
        />
      )}
    </section>
  )
}

function ways(person: Person): string {
  if (person.active === false) return 'no longer works here'
  const has = [person.has_password && 'office by password', person.has_pin && 'phones by PIN'].filter(Boolean)
  return has.length ? has.join(', ') : person.has_pin === false ? 'cannot sign in yet' : ''
}

const ROLES = [
  { value: 'technician', words: 'technician: records and reads' },
  { value: 'manager', words: 'manager: also people, phones, engine types' },
]

function PersonSheet({ person, close }: { person: Person | null; close: () => void }) {
  const [name, setName] = useState(person?.name ?? '')
  const [role, setRole] = useState<string>(person?.role ?? 'technician')
  const [password, setPassword] = useState('')
  const [pin, setPin] = useState('')
  const [active, setActive] = useState(person?.active !== false)
  const [fault, setFault] = useState('')
  const send = async (event: Event) => {
    event.preventDefault()
    if (!name.trim()) return setFault('Give the name as it is said in the workshop.')
    if (pin && !/^\d{4,8}$/.test(pin)) return setFault('A PIN is four to eight figures.')
    const secrets = { ...(password ? { password } : {}), ...(pin ? { pin } : {}) }
    try {
      if (person) await post(`/api/people/${person.id}`, { name: name.trim(), role, active, ...secrets })
      else await post('/api/people', { name: name.trim(), role, ...secrets })
      close()
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const self = person?.id === me.value?.person.id
  return (
    <Sheet title={person ? `Change ${person.name}` : 'Add a person'} close={close}>
      <form noValidate class="block" onSubmit={send}>
        <Field label="Name" value={name} onValue={setName} needed />
        <Field label="May do" value={role} onValue={setRole} options={ROLES} />
        <Field
          label={person ? 'New password' : 'Password'}
          value={password}
          onValue={setPassword}
          secret
          fill="new-password"
          hint={
            person
              ? 'Leave empty to keep the old one.'
              : 'For the office. At least ten characters; leave empty for none.'
          }
        />
        <Field
          label={person ? 'New PIN' : 'PIN'}
          value={pin}
          onValue={setPin}
          secret
          fill="off"
          hint={person ? 'Leave empty to keep the old one.' : 'For shared phones. Four to eight figures.'}
        />
        {person && !self && (
          <label class="wide tick">
            <input type="checkbox" checked={active} onChange={(event) => setActive(event.currentTarget.checked)} />
            <span>works here, and may sign in</span>
          </label>
        )}
        <Fault>{fault}</Fault>
        <div class="acts">
          <button class="main-act">{person ? 'Keep the change' : 'Add the person'}</button>
        </div>
      </form>
    </Sheet>
  )
}
