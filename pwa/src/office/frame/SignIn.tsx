import { useEffect, useRef, useState } from 'preact/hooks'
import { ApiError, get } from './api.ts'
import type { Door } from './shapes.ts'
import { lapsed, me, signIn, signOut, startFault } from './session.ts'
import { Field } from '../../parts/controls/Field.tsx'
import { FaultNotice } from './notices.tsx'
import { remembered, WORKSHOP } from './remembered.ts'
import { say } from './say.ts'
import './signin.css'

/** Longer waits are given in minutes. */
const MOST_SECONDS = 90

/** Why a sign-in was refused: the wrong pair, a wait, or a server that does not answer. */
export function refusal(reason: ApiError): string {
  if (reason.status === 429) {
    const seconds = Number(reason.where)
    if (!seconds) return say('frame.wait_a_few_minutes')
    if (seconds > MOST_SECONDS) return say('frame.wait_minutes', { count: Math.ceil(seconds / 60) })
    return say('frame.wait_seconds', { count: seconds })
  }
  if (reason.status === 401 || reason.status === 403) return say('frame.wrong_password')
  return reason.message
}

/** The workshop's name before anybody signs in; until the server answers, what this browser remembers. */
function useDoor(): Door {
  const [door, setDoor] = useState<Door>({ workshop: me.value?.workshop.name ?? remembered(WORKSHOP), demo: false })
  useEffect(() => {
    get<Door>('/api/office/door').then(setDoor, () => {
      // The sign-in itself will show what is wrong.
    })
  }, [])
  return door
}

/** The way in: the workshop's name as a title block, name and password. */
export function SignIn() {
  const door = useDoor()
  return (
    <main class="signin">
      <Crosshair />
      <SignInForm {...door} />
    </main>
  )
}

function SignInForm({ workshop, demo }: Door) {
  const [name, setName] = useState(lapsed.value ? (me.value?.person.name ?? '') : '')
  const [password, setPassword] = useState('')
  const [fault, setFault] = useState('')
  const [sending, setSending] = useState(false)
  const form = useRef<HTMLFormElement>(null)
  useEffect(() => {
    form.current?.querySelector<HTMLInputElement>(lapsed.value ? 'input[type=password]' : 'input')?.focus()
  }, [])
  const send = async (event: Event) => {
    event.preventDefault()
    if (!name.trim() || !password) return setFault(say('frame.name_and_password_missing'))
    setSending(true)
    setFault('')
    try {
      await signIn(name.trim(), password)
    } catch (reason) {
      setFault(reason instanceof ApiError ? refusal(reason) : String(reason))
      setPassword('')
    } finally {
      setSending(false)
    }
  }
  return (
    <form noValidate ref={form} class="signin-block" onSubmit={send} aria-label={say('frame.sign_in_form')}>
      <div class="signin-name">
        <h1 class="headline">{workshop || 'witnessmark'}</h1>
        <p class="soft">{lapsed.value ? say('frame.was_signed_out') : say('frame.door_subtitle')}</p>
      </div>
      {demo && <p class="signin-demo">{say('frame.demo')}</p>}
      <Field label={say('common.name')} value={name} onValue={setName} fill="username" />
      <Field label={say('frame.password')} value={password} onValue={setPassword} secret fill="current-password" />
      <div class="signin-act along">
        <button class="main-act" disabled={sending}>
          {sending ? say('frame.signing_in') : say('frame.sign_in')}
        </button>
        {lapsed.value && (
          <button type="button" class="plain" onClick={signOut}>
            {say('frame.leave_page')}
          </button>
        )}
      </div>
      <FaultNotice>{fault || startFault.value}</FaultNotice>
      <p class="signin-foot soft small line-over">
        <span>{say('frame.phones_join')}</span>
      </p>
    </form>
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
