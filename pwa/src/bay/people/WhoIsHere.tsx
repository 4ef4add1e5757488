import { useState } from 'preact/hooks'
import { signIn, signOut, signedIn } from '../../capture/index.ts'
import { Keypad } from '../../parts/controls/Keypad.tsx'
import { type Person, people, phone } from '../../store/index.ts'
import { Act, BackAct, Screen, StatusMessage } from '../frame/Frame.tsx'
import { say } from '../frame/say.ts'
import { sentence } from '../frame/words.ts'
import { Pin } from './Pin.tsx'
import './people.css'

/** A shared phone: who holds it now. Works without signal; nothing that was recorded before is touched. */
export function WhoIsHere({ onDone }: { onDone: () => void }) {
  const [person, setPerson] = useState<Person | null>(null)
  if (person) return <SignIn person={person} onNames={() => setPerson(null)} onDone={onDone} />
  return <Names onChoose={setPerson} onDone={onDone} />
}

function SignIn({ person, onNames, onDone }: { person: Person; onNames: () => void; onDone: () => void }) {
  const [pin, setPin] = useState('')
  const [wrong, setWrong] = useState('')
  const [busy, setBusy] = useState(false)
  const enter = async () => {
    if (!pin) return
    setBusy(true)
    try {
      await signIn(person.id, pin)
      onDone()
    } catch (fault) {
      setWrong(sentence(fault))
      navigator.vibrate?.([60, 60, 60])
    } finally {
      setPin('')
      setBusy(false)
    }
  }
  return (
    <Screen
      title={say('people.pin_of', { name: person.name })}
      full
      acts={
        <>
          <BackAct name={say('people.names')} onAct={onNames} />
          <Act name={busy ? say('people.checking') : say('people.sign_in')} main off={busy || pin.length < 4} onAct={() => void enter()} />
        </>
      }
    >
      <Pin class="pin" pin={pin} onPin={setPin} onEnter={() => void enter()}>
        <StatusMessage words={wrong} wrong />
      </Pin>
      <Keypad value={pin} onValue={setPin} point={false} name={say('people.pin_keys')} />
    </Screen>
  )
}

function Names({ onChoose, onDone }: { onChoose: (person: Person) => void; onDone: () => void }) {
  const now = signedIn.value
  const active = people.value.filter((person) => person.active)
  return (
    <Screen
      title={say('people.title')}
      acts={
        now ? (
          <>
            <BackAct onAct={onDone} />
            <Act name={say('people.sign_out', { name: now.name })} onAct={() => void signOut()} />
          </>
        ) : undefined
      }
    >
      <ul class="people in-grid">
        {active.map((person) => (
          <li key={person.id}>
            <button type="button" class={`column whole${person.id === now?.id ? ' is-here' : ''}`} onClick={() => onChoose(person)}>
              <strong class="large">{person.name}</strong>
              <span class="small soft light">{person.id === now?.id ? say('people.signed_in') : person.role}</span>
            </button>
          </li>
        ))}
      </ul>
      {active.length === 0 && <p>{say('people.none', { workshop: phone.value?.workshop.name ?? '' })}</p>}
      <p class="small soft">{say('people.records_stay')}</p>
    </Screen>
  )
}
