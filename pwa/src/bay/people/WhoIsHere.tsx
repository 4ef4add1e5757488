import { useState } from 'preact/hooks'
import { signIn, signOut, signedIn } from '../../capture/index.ts'
import { Keypad } from '../../parts/controls/Keypad.tsx'
import { type Person, people, phone } from '../../store/index.ts'
import { Act, BackAct, Screen, Told } from '../frame/Frame.tsx'
import { sentence } from '../frame/words.ts'

/** A shared phone: who holds it now. Works without signal; nothing that was recorded before is touched. */
export function WhoIsHere({ onDone }: { onDone: () => void }) {
  const [person, setPerson] = useState<Person | null>(null)
  const [pin, setPin] = useState('')
  const [wrong, setWrong] = useState('')
  const [busy, setBusy] = useState(false)
  const enter = async () => {
    if (!person || !pin) return
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
  if (person) {
    return (
      <Screen
        title={`${person.name}: PIN`}
        full
        acts={
          <>
            <BackAct name="Names" onAct={() => setPerson(null)} />
            <Act name={busy ? 'Checking' : 'Go in'} main off={busy || pin.length < 4} onAct={() => void enter()} />
          </>
        }
      >
        <form
          class="pin"
          onSubmit={(event) => {
            event.preventDefault()
            void enter()
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
        </form>
        <Keypad value={pin} onValue={setPin} point={false} name="PIN keys" />
      </Screen>
    )
  }
  const now = signedIn.value
  const here = people.value.filter((p) => p.active)
  return (
    <Screen
      title="Who is here?"
      acts={
        now ? (
          <>
            <BackAct onAct={onDone} />
            <Act name={`Sign ${now.name} out`} onAct={() => void signOut()} />
          </>
        ) : undefined
      }
    >
      <ul class="people">
        {here.map((p) => (
          <li key={p.id}>
            <button
              type="button"
              class={p.id === now?.id ? 'is-here' : ''}
              onClick={() => {
                setWrong('')
                setPerson(p)
              }}
            >
              <strong>{p.name}</strong>
              <span class="small soft">{p.id === now?.id ? 'signed in' : p.role}</span>
            </button>
          </li>
        ))}
      </ul>
      {here.length === 0 && <p>No names have reached this phone yet. They come with the first answer of the server at {phone.value?.workshop.name}.</p>}
      <p class="small soft">Records already made stay under the name they were made with, whoever signs in now.</p>
    </Screen>
  )
}
