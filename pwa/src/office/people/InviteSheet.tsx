import { useEffect, useState } from 'preact/hooks'
import { post, type ApiError } from '../frame/api.ts'
import { FaultNotice } from '../frame/notices.tsx'
import { say } from '../frame/say.ts'
import type { Invitation } from '../frame/shapes.ts'
import { Sheet } from '../frame/Sheet.tsx'
import { dayAndClock } from '../frame/words.ts'

interface Props {
  /** How many phones have joined by now. */
  joined: number
  close: () => void
}

/** A one-time code as a picture and as letters. */
export function InviteSheet({ joined, close }: Props) {
  const [invitation, setInvitation] = useState<Invitation | null>(null)
  const [fault, setFault] = useState('')
  const [before] = useState(joined)
  const invite = () => {
    setFault('')
    post<Invitation>('/api/phones/invite').then(setInvitation, (reason: ApiError) => setFault(reason.message))
  }
  useEffect(invite, [])
  return (
    <Sheet title={say('phones.add')} close={close}>
      <div class="invite in-grid">
        <FaultNotice>{fault}</FaultNotice>
        {joined > before && (
          <p class="done noted is-done" role="status">
            {say('phones.has_joined')}
          </p>
        )}
        {invitation && <Code invitation={invitation} another={invite} />}
      </div>
    </Sheet>
  )
}

function Code({ invitation, another }: { invitation: Invitation; another: () => void }) {
  const { url, code, qr_svg, expires } = invitation
  return (
    <>
      <p>{say('phones.scan_code')}</p>
      <img class="invite-square" src={asPicture(qr_svg)} alt={say('phones.square_code', { url })} />
      <p>{say('phones.or_type_code')}</p>
      <p class="invite-url breaks figure">{url.split(/[?#]/)[0]}</p>
      <p class="invite-code figure" aria-label={say('phones.code', { code: code.split('').join(' ') })}>
        {code}
      </p>
      <p class="soft">{say('phones.code_validity', { when: dayAndClock(expires) })}</p>
      <button type="button" onClick={another}>
        {say('phones.another_code')}
      </button>
    </>
  )
}

/** A drawing made for the inside of a page, as a picture of its own. */
function asPicture(svg: string): string {
  const standalone = svg.includes('xmlns=') ? svg : svg.replace('<svg', '<svg xmlns="http://www.w3.org/2000/svg"')
  return `data:image/svg+xml;charset=utf-8,${encodeURIComponent(standalone)}`
}
