import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { post, ApiError, remove } from '../../frame/api.ts'
import { Done, Fault } from '../../frame/Say.tsx'
import { useAsk } from '../../frame/useAsk.ts'
import { isManager } from '../../frame/session.ts'
import type { Owner } from '../../frame/shapes.ts'

const NOBODY: Owner = { name: '', phone: '', mail: '' }

/** Who brought the job. Kept beside the log and never in it, so that it can be wiped out when it has to be. */
export function OwnerPart({ job }: { job: string }) {
  const { told, trouble } = useAsk<Owner>(`/api/jobs/${job}/owner`)
  const [now, setNow] = useState<Owner>(NOBODY)
  const [said, setSaid] = useState('')
  const [fault, setFault] = useState('')
  const [wiping, setWiping] = useState(false)
  useEffect(() => {
    if (told) setNow(told)
  }, [told])
  const put = (name: keyof Owner) => (value: string) => {
    setNow({ ...now, [name]: value })
    setSaid('')
  }
  const act = async (work: Promise<unknown>, words: string) => {
    setFault('')
    try {
      await work
      setSaid(words)
      setWiping(false)
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const keep = (event: Event) => {
    event.preventDefault()
    void act(post(`/api/jobs/${job}/owner`, now), 'Kept.')
  }
  const erase = () => {
    void act(remove(`/api/jobs/${job}/owner`), 'Wiped out. The record of the engine stays.')
    setNow(NOBODY)
  }
  if (trouble?.status === 404) return null
  return (
    <section aria-label="Owner">
      <h2>Owner</h2>
      <p class="soft">Kept beside the record, not in it: it goes into no pack and can be wiped out.</p>
      <form noValidate class="block owner" onSubmit={keep}>
        <Field label="Name" value={now.name} onValue={put('name')} />
        <Field label="Telephone" value={now.phone} onValue={put('phone')} figures />
        <Field label="Mail" value={now.mail} onValue={put('mail')} />
        <Fault>{fault || trouble?.message}</Fault>
        <Done>{said}</Done>
        <div class="acts">
          <button>Keep</button>
          {isManager.value && !wiping && (
            <button type="button" class="plain" onClick={() => setWiping(true)}>
              Wipe out
            </button>
          )}
          {wiping && (
            <>
              <span>This cannot be taken back. Wipe out name, telephone and mail?</span>
              <button type="button" onClick={erase}>
                Yes, wipe out
              </button>
              <button type="button" class="plain" onClick={() => setWiping(false)}>
                No
              </button>
            </>
          )}
        </div>
      </form>
    </section>
  )
}
