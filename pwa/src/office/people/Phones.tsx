import { PageHead } from '../frame/PageHead.tsx'
import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { post, ApiError } from '../frame/api.ts'
import { Empty, Fault } from '../frame/Say.tsx'
import { Sheet } from '../frame/Sheet.tsx'
import { useAsk } from '../frame/useAsk.ts'
import { isManager } from '../frame/session.ts'
import type { Invitation, Phone } from '../frame/shapes.ts'
import { count, dayAndClock, figure, offsetWords, span } from '../frame/words.ts'

const LOOK_EVERY_MS = 5000

/** The phones of the workshop: when each was last heard of, and whether all it recorded has arrived. */
export function Phones() {
  const { told, trouble, again } = useAsk<{ phones: Phone[] }>('/api/phones')
  const [inviting, setInviting] = useState(false)
  const [shutting, setShutting] = useState<Phone | null>(null)
  useEffect(() => {
    const timer = setInterval(() => document.visibilityState === 'visible' && again(), LOOK_EVERY_MS)
    return () => clearInterval(timer)
  }, [])
  const phones = told?.phones ?? []
  return (
    <section class="page phones-page" aria-labelledby="phones-title">
      <PageHead
        id="phones-title"
        title="Phones"
        acts={
          <>
            {isManager.value && (
              <button type="button" class="main-act" onClick={() => setInviting(true)}>
                Let a phone in
              </button>
            )}
          </>
        }
      />
      <Fault>{trouble?.message}</Fault>
      {told && phones.length === 0 && (
        <Empty>
          No phone has joined.{' '}
          {isManager.value ? 'Let one in: it reads a code from this screen once.' : 'A manager lets them in.'}
        </Empty>
      )}
      <ul class="phones">
        {phones.map((phone) => (
          <Line key={phone.id} phone={phone} shut={() => setShutting(phone)} />
        ))}
      </ul>
      {inviting && (
        <Invite
          now={phones.length}
          close={() => {
            setInviting(false)
            again()
          }}
        />
      )}
      {shutting && (
        <ShutOut
          phone={shutting}
          close={() => {
            setShutting(null)
            again()
          }}
        />
      )}
    </section>
  )
}

/** What the phone says it recorded against what is here, in words. */
export function arrival(phone: Pick<Phone, 'announced' | 'received'>): string {
  const { announced, received } = phone
  if (!announced && !received) return 'It has recorded nothing yet.'
  if (announced <= received) return `All ${figure(received)} of its records are here.`
  return `This phone said ${count(announced, 'record')}, ${figure(received)} are here: ${figure(announced - received)} still on it.`
}

function Line({ phone, shut }: { phone: Phone; shut: () => void }) {
  const behind = phone.announced > phone.received
  return (
    <li class={phone.revoked ? 'is-shut' : ''}>
      <span class="phone-letter" aria-hidden="true">
        {phone.letter}
      </span>
      <div>
        <h2>
          <span class="unseen">Phone {phone.letter}, </span>
          {phone.name}
          {phone.revoked && <span class="phone-shut">shut out</span>}
        </h2>
        <p>
          {phone.last_seen ? `Last heard of ${ago(phone.last_seen)}.` : 'Not heard of since it joined.'} Joined{' '}
          {dayAndClock(phone.enrolled)}.
        </p>
        <p class={behind ? 'caution' : undefined}>{arrival(phone)}</p>
        <p class="soft">{offsetWords(phone.clock_offset_ms, 'Its clock')}</p>
        {phone.revoked && (
          <p>
            Shut out {dayAndClock(phone.revoked)}
            {phone.revoked_reason && `: “${phone.revoked_reason}”`}
          </p>
        )}
      </div>
      {!phone.revoked && isManager.value && (
        <button type="button" onClick={shut} aria-label={`Shut out phone ${phone.letter}, ${phone.name}`}>
          Shut out
        </button>
      )}
    </li>
  )
}

function ago(stamp: string): string {
  const ms = Date.now() - Date.parse(stamp)
  return ms < 24 * 3_600_000 ? `${span(Math.max(0, ms))} ago, ${dayAndClock(stamp)}` : dayAndClock(stamp)
}

/** A one-time code as a picture and as letters. */
function Invite({ close, now }: { now: number; close: () => void }) {
  const [made, setMade] = useState<Invitation | null>(null)
  const [fault, setFault] = useState('')
  const [before] = useState(now)
  const make = () => {
    setFault('')
    post<Invitation>('/api/phones/invite').then(setMade, (reason: ApiError) => setFault(reason.message))
  }
  useEffect(make, [])
  return (
    <Sheet title="Let a phone in" close={close}>
      <div class="invite">
        <Fault>{fault}</Fault>
        {now > before && (
          <p class="done" role="status">
            A phone has joined. This code is used up.
          </p>
        )}
        {made && (
          <>
            <p>Point the phone's camera at this square. It opens the bay app and joins this workshop.</p>
            <img class="invite-square" src={asPicture(made.qr_svg)} alt={`Square code for ${made.url}`} />
            <p>Or open this address on the phone and type the code:</p>
            <p class="invite-url figure">{made.url.split(/[?#]/)[0]}</p>
            <p class="invite-code figure" aria-label={`Code ${made.code.split('').join(' ')}`}>
              {made.code}
            </p>
            <p class="soft">
              Good once, until {dayAndClock(made.expires)}. The phone makes its own key; it never leaves the phone.
            </p>
            <button type="button" onClick={make}>
              Another code
            </button>
          </>
        )}
      </div>
    </Sheet>
  )
}

/** A drawing made to stand inside a page, as a picture of its own. */
function asPicture(svg: string): string {
  const alone = svg.includes('xmlns=') ? svg : svg.replace('<svg', '<svg xmlns="http://www.w3.org/2000/svg"')
  return `data:image/svg+xml;charset=utf-8,${encodeURIComponent(alone)}`
}

function ShutOut({ phone, close }: { phone: Phone; close: () => void }) {
  const [reason, setReason] = useState('')
  const [fault, setFault] = useState('')
  const send = async (event: Event) => {
    event.preventDefault()
    if (!reason.trim()) return setFault('Give the reason: it goes into the log.')
    try {
      await post(`/api/phones/${phone.id}/revoke`, { reason: reason.trim() })
      close()
    } catch (trouble) {
      setFault(trouble instanceof ApiError ? trouble.message : String(trouble))
    }
  }
  return (
    <Sheet title={`Shut out phone ${phone.letter}`} close={close}>
      <form noValidate class="block" onSubmit={send}>
        <p class="wide">
          {phone.name} will be able to send nothing more. {arrival(phone)} What is still on it stays on it and can be
          taken off it by hand.
        </p>
        <div class="wide">
          <Field label="Reason" value={reason} onValue={setReason} lines={2} needed />
        </div>
        <Fault>{fault}</Fault>
        <div class="acts">
          <button class="main-act">Shut it out</button>
        </div>
      </form>
    </Sheet>
  )
}
