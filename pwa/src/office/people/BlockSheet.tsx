import { useState } from 'preact/hooks'
import { Field } from '../../parts/controls/Field.tsx'
import { ApiError, post } from '../frame/api.ts'
import { FaultNotice } from '../frame/notices.tsx'
import { say } from '../frame/say.ts'
import type { Phone } from '../frame/shapes.ts'
import { Sheet } from '../frame/Sheet.tsx'
import { arrivalWords } from './arrival.ts'

/** Blocks a phone, with the reason. */
export function BlockSheet({ phone, close }: { phone: Phone; close: () => void }) {
  const [reason, setReason] = useState('')
  const [fault, setFault] = useState('')
  const send = async (event: Event) => {
    event.preventDefault()
    if (!reason.trim()) return setFault(say('phones.reason_missing'))
    try {
      await post(`/api/phones/${phone.id}/revoke`, { reason: reason.trim() })
      close()
    } catch (refusal) {
      setFault(refusal instanceof ApiError ? refusal.message : String(refusal))
    }
  }
  return (
    <Sheet title={say('phones.block_letter', { letter: phone.letter })} close={close}>
      <form noValidate class="block halves" onSubmit={send}>
        <p class="wide">
          {say('phones.block_means', { name: phone.name })} {arrivalWords(phone)} {say('phones.block_leaves')}
        </p>
        <div class="wide">
          <Field label={say('common.reason')} value={reason} onValue={setReason} lines={2} needed />
        </div>
        <FaultNotice>{fault}</FaultNotice>
        <div class="acts">
          <button class="main-act">{say('phones.block_this')}</button>
        </div>
      </form>
    </Sheet>
  )
}
