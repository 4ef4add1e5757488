import { useEffect, useRef, useState } from 'preact/hooks'
import { get, ApiError } from './api.ts'
import type { Door } from './shapes.ts'
import { lapsed, me, signIn, signOut, troubleAtStart } from './session.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { Fault } from './Say.tsx'
import { recalled, WORKSHOP } from './kept.ts'

/** What a refused sign-in says: the wrong pair, a wait, or a server that is not there. */
export function refusal(trouble: ApiError): string {
  if (trouble.status === 429) {
    const seconds = Number(trouble.where)
    const wait = seconds > 90 ? `${Math.ceil(seconds / 60)} minutes` : seconds ? `${seconds} seconds` : 'a few minutes'
    return `Too many wrong tries. Wait ${wait}, then try again. A forgotten password is set anew by a manager under People.`
  }
  if (trouble.status === 401 || trouble.status === 403) {
    return 'This name and password do not go together. Look at both; capitals count. A manager can set a new password under People.'
  }
  return trouble.message
}

/** What stands on the door; while the server does not answer, what this machine remembers of it. */
function useDoor(): Door {
  const [door, setDoor] = useState<Door>({ workshop: me.value?.workshop.name ?? recalled(WORKSHOP), demo: false })
  useEffect(() => {
    get<Door>('/api/office/door').then(setDoor, () => {
      // The sign-in itself will say what is wrong.
    })
  }, [])
  return door
}

/** The way in: the workshop's name as a title block, and two lines to write on. */
export function SignIn() {
  const [name, setName] = useState(lapsed.value ? (me.value?.person.name ?? '') : '')
  const [password, setPassword] = useState('')
  const [fault, setFault] = useState('')
  const [asking, setAsking] = useState(false)
  const { workshop, demo } = useDoor()
  const form = useRef<HTMLFormElement>(null)
  useEffect(() => {
    const first = form.current?.querySelector<HTMLInputElement>(lapsed.value ? 'input[type=password]' : 'input')
    first?.focus()
  }, [])

  const send = async (event: Event) => {
    event.preventDefault()
    if (!name.trim() || !password) return setFault('Write your name and your password.')
    setAsking(true)
    setFault('')
    try {
      await signIn(name.trim(), password)
    } catch (reason) {
      setFault(reason instanceof ApiError ? refusal(reason) : String(reason))
      setPassword('')
    } finally {
      setAsking(false)
    }
  }

  return (
    <main class="signin">
      <Crosshair />
      <form noValidate ref={form} class="signin-block" onSubmit={send} aria-label="Sign in to the office">
        <div class="signin-name">
          <h1>{workshop || 'witnessmark'}</h1>
          <p>
            {lapsed.value
              ? 'You were signed out. What you had written is still here.'
              : `${workshop ? 'witnessmark office' : 'The office'}: read, search, decide, hand over.`}
          </p>
        </div>
        {demo && (
          <p class="signin-demo">
            This is the demo. The workshop, its people, vehicles, engines, pictures and figures are all invented.
          </p>
        )}
        <Field label="Name" value={name} onValue={setName} fill="username" />
        <Field label="Password" value={password} onValue={setPassword} secret fill="current-password" />
        <div class="signin-act">
          <button class="main-act" disabled={asking}>
            {asking ? 'Signing in' : 'Sign in'}
          </button>
          {lapsed.value && (
            <button type="button" class="plain" onClick={signOut}>
              Leave the page
            </button>
          )}
        </div>
        <Fault>{fault || troubleAtStart.value}</Fault>
        <p class="signin-foot">
          <span>Phones do not sign in here: they join by a code made under Phones.</span>
        </p>
      </form>
    </main>
  )
}

/** A marked-out bore: centre lines and scribed circles, as on the plate before the first cut. */
function Crosshair() {
  return (
    <svg class="signin-drawing" viewBox="-300 -300 600 600" aria-hidden="true" focusable="false">
      <g fill="none" stroke="currentColor">
        <circle r="170" stroke-width="2" />
        <circle r="150" stroke-width="1" />
        <circle r="236" stroke-width="1" stroke-dasharray="26 6 3 6" />
        <path d="M-290 0H290M0 -290V290" stroke-width="1" stroke-dasharray="30 6 4 6" />
        {[45, 135, 225, 315].map((turn) => (
          <g key={turn} transform={`rotate(${turn}) translate(236 0)`}>
            <circle r="21" stroke-width="2" />
            <path d="M-32 0H32M0 -32V32" stroke-width="1" stroke-dasharray="14 4 3 4" />
          </g>
        ))}
        {[-22.5, 22.5, 157.5, 202.5].map((turn) => (
          <path key={turn} d="M144 0H176" stroke-width="4" transform={`rotate(${turn})`} />
        ))}
      </g>
    </svg>
  )
}
