import { useState } from 'preact/hooks'
import { type Second as Signed, signedIn } from '../../capture/index.ts'
import { Keypad } from '../../parts/controls/Keypad.tsx'
import { Sheet } from '../../parts/controls/Sheet.tsx'
import { type Person, people } from '../../store/index.ts'
import { Told } from '../frame/Frame.tsx'
import { sentence } from '../frame/words.ts'

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
  const now = signedIn.value
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
  if (person) {
    return (
      <Sheet title={`${person.name}: PIN`} onClose={onClose}>
        <form
          class="second"
          onSubmit={(event) => {
            event.preventDefault()
            void sign({ person: person.id, pin })
          }}
        >
          <input
            class="pin-in figure"
            type="password"
            inputMode="none"
            autoComplete="off"
            aria-label="PIN"
            value={pin}
            maxLength={12}
            onInput={(event) => setPin(event.currentTarget.value.replace(/\D/g, ''))}
          />
          <Told words={wrong} wrong />
          <Keypad value={pin} onValue={setPin} point={false} name="PIN keys" />
          <div class="pair">
            <button type="button" onClick={() => setPerson(null)}>
              Names
            </button>
            <button type="submit" class="main-act" disabled={busy || pin.length < 4}>
              {busy ? 'Checking' : act}
            </button>
          </div>
        </form>
      </Sheet>
    )
  }
  return (
    <Sheet title={title} onClose={onClose}>
      <p class="small soft">{now ? `${now.name} stays signed in on this phone.` : ''}</p>
      <Told words={wrong} wrong />
      <ul class="people">
        {people.value
          .filter((one) => one.active)
          .map((one) => (
            <li key={one.id}>
              <button type="button" disabled={Boolean(notFor(one))} onClick={() => (one.id === now?.id ? void sign(null) : setPerson(one))}>
                <strong>{one.name}</strong>
                <span class="small soft">{notFor(one) || (one.id === now?.id ? 'signed in' : one.role)}</span>
              </button>
            </li>
          ))}
      </ul>
    </Sheet>
  )
}
