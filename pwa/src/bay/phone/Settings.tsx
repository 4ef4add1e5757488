import { signOut, signedIn } from '../../capture/index.ts'
import { Choice } from '../../parts/controls/Field.tsx'
import { type HeadSeen, headSeen, phone, waiting } from '../../store/index.ts'
import { BackAct, Screen } from '../frame/Frame.tsx'
import { hand, prefer } from '../frame/hand.ts'
import { open } from '../frame/route.ts'
import { say } from '../frame/say.ts'
import { useStored } from '../frame/useStored.ts'
import { day, waitingText } from '../frame/words.ts'
import { SpeechParts } from '../speaking/SpeechParts.tsx'
import { UpdateReady } from './UpdateReady.tsx'

/** What this phone is, who holds it, and how it is held. */
export function Settings() {
  return (
    <Screen title={say('settings.title')} acts={<BackAct />}>
      <Preferences />
      <SignedIn />
      <UpdateReady drafts />
      <SpeechParts />
      <ThisPhone />
      <section>
        <h2>{say('settings.about')}</h2>
        <p class="small">
          {say('settings.about_text')}
        </p>
      </section>
    </Screen>
  )
}

function Preferences() {
  const { theme, hand: side } = hand.value
  return (
    <div class="form">
      <Choice
        label={say('settings.theme')}
        options={[
          { value: 'phone', words: say('settings.theme_phone') },
          { value: 'light', words: say('settings.theme_light') },
          { value: 'dark', words: say('settings.theme_dark') },
        ]}
        chosen={[theme]}
        onChoose={(chosen) => prefer({ theme: chosen })}
      />
      <Choice
        label={say('settings.hand')}
        options={[
          { value: 'right', words: say('settings.hand_right') },
          { value: 'left', words: say('settings.hand_left') },
        ]}
        chosen={[side]}
        onChoose={(chosen) => prefer({ hand: chosen })}
      />
    </div>
  )
}

function SignedIn() {
  const waitingWords = waitingText(waiting.value)
  const leave = () => {
    void signOut()
    open('who')
  }
  return (
    <section>
      <h2>{signedIn.value ? say('settings.signed_in', { name: signedIn.value.name }) : say('settings.nobody')}</h2>
      <p class="small soft">
        {say('settings.sign_out_about')}{' '}
        {waitingWords ? say('settings.still_to_send', { what: waitingWords }) : say('settings.nothing_waits')}
      </p>
      <div class="pair wraps">
        {signedIn.value && (
          <button type="button" onClick={leave}>
            {say('settings.sign_out')}
          </button>
        )}
        <button type="button" onClick={() => open('who')}>
          {say('settings.somebody_else')}
        </button>
      </div>
    </section>
  )
}

function ThisPhone() {
  const here = phone.value
  const epoch = here?.epoch ?? ''
  const head = useStored<HeadSeen | null>(null, () => headSeen(epoch), [epoch])
  return (
    <section>
      <h2>{say('settings.this_phone')}</h2>
      {here && (
        <dl class="facts line-over">
          <Line name={say('common.workshop')} value={here.workshop.name} />
          <Line name={say('settings.phone')} value={say('settings.phone_is', { letter: here.device.letter, name: here.device.name })} />
          <Line name={say('settings.joined')} value={day(here.joined)} />
          <Line name={say('settings.server')} value={here.server.match(/.{4}/g)?.join(' ') ?? ''} figures />
          <Line
            name={say('settings.fingerprint')}
            value={head ? say('settings.fingerprint_of', { count: head.size, fingerprint: shortPrint(head.root) }) : say('settings.no_fingerprint')}
            figures={Boolean(head)}
          />
        </dl>
      )}
      <p class="small soft">
        {say('settings.fingerprint_about')}
      </p>
    </section>
  )
}

const shortPrint = (root: string) => `${root.slice(0, 4)} ${root.slice(4, 8)} … ${root.slice(-4)}`

function Line({ name, value, figures }: { name: string; value: string; figures?: boolean }) {
  return (
    <div>
      <dt>{name}</dt>
      <dd class={figures ? 'figure' : ''}>{value}</dd>
    </div>
  )
}
