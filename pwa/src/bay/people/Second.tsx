import { useState } from 'preact/hooks'
import { type Second as Signed, signedIn } from '../../capture/index.ts'
import { Keypad } from '../../parts/controls/Keypad.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { type Person, people } from '../../store/index.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { say } from '../frame/say.ts'
import { sentence } from '../frame/words.ts'
import { Pin } from './Pin.tsx'

interface Props {
  title: string
  /** Why somebody cannot sign here; '' when they can. */
  notFor: (person: Person) => string
  act: string
  /** `second` is null for who is signed in already. */
  onSign: (second: Signed | null) => Promise<unknown>
  onClose: () => void
}

/** One signature of another person by name and PIN; who is signed in on this phone stays signed in. */
export function Second({ title, notFor, act, onSign, onClose }: Props) {
  const [person, setPerson] = useState<Person | null>(null)
  const [pin, setPin] = useState('')
  const [wrong, setWrong] = useState('')
  const [busy, setBusy] = useState(false)
  const sign = async (second: Signed | null) => {
    if (busy) return
    setBusy(true)
    try {
      await onSign(second)
    } catch (fault) {
      setWrong(sentence(fault))
      navigator.vibrate?.([60, 60, 60])
    } finally {
      setPin('')
      setBusy(false)
    }
  }
  if (!person) return <Names title={title} notFor={notFor} wrong={wrong} onChoose={(chosen) => (chosen.id === signedIn.value?.id ? void sign(null) : setPerson(chosen))} onClose={onClose} />
  return (
    <Sheet title={say('people.pin_of', { name: person.name })} onClose={onClose}>
      <Pin class="second" pin={pin} onPin={setPin} onEnter={() => void sign({ person: person.id, pin })}>
        <StatusMessage words={wrong} wrong />
        <Keypad value={pin} onValue={setPin} point={false} name={say('people.pin_keys')} />
        <div class="pair wraps above-4">
          <button type="button" onClick={() => setPerson(null)}>
            {say('people.names')}
          </button>
          <button type="submit" class="main-act" disabled={busy || pin.length < 4}>
            {busy ? say('people.checking') : act}
          </button>
        </div>
      </Pin>
    </Sheet>
  )
}

function Names(props: { title: string; notFor: (person: Person) => string; wrong: string; onChoose: (person: Person) => void; onClose: () => void }) {
  const { title, notFor, wrong, onChoose, onClose } = props
  const now = signedIn.value
  return (
    <Sheet title={title} onClose={onClose}>
      <p class="small soft">{now ? say('people.stays_signed_in', { name: now.name }) : ''}</p>
      <StatusMessage words={wrong} wrong />
      <ul class="people in-grid">
        {people.value
          .filter((person) => person.active)
          .map((person) => (
            <li key={person.id}>
              <button class="column whole" type="button" disabled={Boolean(notFor(person))} onClick={() => onChoose(person)}>
                <strong class="large">{person.name}</strong>
                <span class="small soft light">{notFor(person) || (person.id === now?.id ? say('people.signed_in') : person.role)}</span>
              </button>
            </li>
          ))}
      </ul>
    </Sheet>
  )
}
