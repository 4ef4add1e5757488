import { signOut, signedIn } from '../../capture/index.ts'
import { Choice } from '../../parts/controls/Field.tsx'
import { type HeadSeen, headSeen, openDrafts, phone, waiting } from '../../store/index.ts'
import { useServer } from '../frame/ask.ts'
import { BackAct, Screen } from '../frame/Frame.tsx'
import { hand, prefer } from '../frame/hand.ts'
import { SpeechParts } from '../speaking/SpeechParts.tsx'
import { open } from '../frame/route.ts'
import { useAsked } from '../frame/useAsked.ts'
import { day, load } from '../frame/words.ts'

/** What this phone is, who holds it, and how it is held. */
export function Settings() {
  const { update, updateNow } = useServer()
  const here = phone.value
  const epoch = here?.epoch ?? ''
  const head = useAsked<HeadSeen | null>(null, () => headSeen(epoch), [epoch])
  const { theme, hand: side } = hand.value
  return (
    <Screen title="Settings" acts={<BackAct />}>
      <div class="form">
        <Choice
          label="Paper"
          options={[
            { value: 'phone', words: 'as the phone' },
            { value: 'light', words: 'day' },
            { value: 'dark', words: 'night' },
          ]}
          chosen={[theme]}
          onChoose={(t) => prefer({ theme: t })}
        />
        <Choice
          label="Hand that holds it"
          options={[
            { value: 'right', words: 'right' },
            { value: 'left', words: 'left' },
          ]}
          chosen={[side]}
          onChoose={(h) => prefer({ hand: h })}
        />
      </div>
      <section>
        <h2>{signedIn.value ? `${signedIn.value.name} is signed in` : 'Nobody is signed in'}</h2>
        <p class="small soft">
          Signing out touches no record. {load(waiting.value) === 'nothing' ? 'Nothing waits on this phone.' : `Still to be sent from this phone: ${load(waiting.value)}.`}
        </p>
        <div class="pair">
          {signedIn.value && (
            <button
              type="button"
              onClick={() => {
                void signOut()
                open('who')
              }}
            >
              Sign out
            </button>
          )}
          <button type="button" onClick={() => open('who')}>
            Somebody else
          </button>
        </div>
      </section>
      {update.value.ready && (
        <section class="update">
          <p>
            {update.value.words}
            {openDrafts.value > 0 && ` ${openDrafts.value} ${openDrafts.value === 1 ? 'draft is' : 'drafts are'} open.`}
          </p>
          <button type="button" disabled={!update.value.allowed} onClick={updateNow}>
            Bring the app up to date
          </button>
        </section>
      )}
      <SpeechParts />
      <section>
        <h2>This phone</h2>
        {here && (
          <dl class="facts">
            <Line name="workshop" value={here.workshop.name} />
            <Line name="phone" value={`${here.device.letter}, ${here.device.name}`} />
            <Line name="joined" value={day(here.joined)} />
            <Line name="server" value={here.server.match(/.{4}/g)?.join(' ') ?? ''} figures />
            <Line
              name="last head"
              value={head ? `${head.size} records, ${head.root.slice(0, 4)} ${head.root.slice(4, 8)} … ${head.root.slice(-4)}` : 'none seen yet'}
              figures={Boolean(head)}
            />
          </dl>
        )}
        <p class="small soft">
          The head is the server's signed seal over everything it holds. This phone keeps the last one it saw, and tells loudly if a later
          one has lost or changed anything.
        </p>
      </section>
      <section>
        <h2>About</h2>
        <p class="small">
          witnessmark records what was seen and measured. It is no certificate of fitness. The maker's data and local codes come first;
          work that needs a licence needs a licensed person.
        </p>
      </section>
    </Screen>
  )
}

function Line({ name, value, figures }: { name: string; value: string; figures?: boolean }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd class={figures ? 'figure' : ''}>{value}</dd>
    </div>
  )
}
