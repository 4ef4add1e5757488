import { useEffect, useState } from 'preact/hooks'
import { Field } from '../../../parts/controls/Field.tsx'
import { post, ApiError, remove } from '../../frame/api.ts'
import { DoneNotice, FaultNotice } from '../../frame/notices.tsx'
import { useGet } from '../../frame/useGet.ts'
import { isManager } from '../../frame/session.ts'
import type { Owner } from '../../frame/shapes.ts'
import { say } from '../../frame/say.ts'

const NOBODY: Owner = { name: '', phone: '', mail: '' }

/** Whose engine it is. It is stored beside the log and never in it, so that it can be deleted when it has to be. */
export function OwnerPart({ job }: { job: string }) {
  const { data: owner, error } = useGet<Owner>(`/api/jobs/${job}/owner`)
  const [now, setNow] = useState<Owner>(NOBODY)
  const [done, setDone] = useState('')
  const [fault, setFault] = useState('')
  useEffect(() => {
    if (owner) setNow(owner)
  }, [owner])
  const put = (name: keyof Owner) => (value: string) => {
    setNow({ ...now, [name]: value })
    setDone('')
  }
  const act = async (work: Promise<unknown>, words: string) => {
    setFault('')
    try {
      await work
      setDone(words)
    } catch (reason) {
      setFault(reason instanceof ApiError ? reason.message : String(reason))
    }
  }
  const save = (event: Event) => {
    event.preventDefault()
    void act(post(`/api/jobs/${job}/owner`, now), say('facts.owner_saved'))
  }
  const erase = () => {
    void act(remove(`/api/jobs/${job}/owner`), say('facts.owner_deleted'))
    setNow(NOBODY)
  }
  if (error?.status === 404) return null
  return (
    <section aria-label={say('facts.owner')}>
      <h2>{say('facts.owner')}</h2>
      <p class="soft">{say('facts.owner_help')}</p>
      <form noValidate class="block halves above-4" onSubmit={save}>
        <Field label={say('common.name')} value={now.name} onValue={put('name')} />
        <Field label={say('facts.telephone')} value={now.phone} onValue={put('phone')} figures />
        <Field label={say('facts.email')} value={now.mail} onValue={put('mail')} />
        <FaultNotice>{fault || error?.message}</FaultNotice>
        <DoneNotice>{done}</DoneNotice>
        <div class="acts">
          <button>{say('common.save')}</button>
          {isManager.value && <Delete erase={erase} />}
        </div>
      </form>
    </section>
  )
}

/** Deletes the owner's details, after one question. */
function Delete({ erase }: { erase: () => void }) {
  const [sure, setSure] = useState(false)
  if (!sure)
    return (
      <button type="button" class="plain" onClick={() => setSure(true)}>
        {say('facts.delete')}
      </button>
    )
  return (
    <>
      <span>{say('facts.delete_question')}</span>
      <button type="button" onClick={() => (setSure(false), erase())}>
        {say('facts.delete_yes')}
      </button>
      <button type="button" class="plain" onClick={() => setSure(false)}>
        {say('common.cancel')}
      </button>
    </>
  )
}
