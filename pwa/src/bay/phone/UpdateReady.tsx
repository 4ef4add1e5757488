import { openDrafts } from '../../store/index.ts'
import { say } from '../frame/say.ts'
import { useServer } from '../frame/server.ts'

/** An update of the app that waits to be taken, and what holds it up. */
export function UpdateReady({ drafts }: { drafts?: boolean }) {
  const { update, updateNow } = useServer()
  if (!update.value.ready) return null
  return (
    <section class="update">
      <p>{update.value.words}</p>
      {drafts && openDrafts.value > 0 && <p>{say('phone.open_drafts', { count: openDrafts.value })}</p>}
      <button class="whole" type="button" disabled={!update.value.allowed} onClick={updateNow}>
        {say('phone.update')}
      </button>
    </section>
  )
}
