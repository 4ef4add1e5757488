import { useEffect, useState } from 'preact/hooks'
import { canHear } from '../../speech/hear.ts'
import { type Parts, fetchParts, fetching, lookAtParts, parts, removeParts, stopFetching } from '../../speech/parts.ts'
import { platformHears } from '../../speech/platform.ts'
import { size } from '../../store/index.ts'
import { Told } from '../frame/Frame.tsx'
import { hearsAlong, letHearAlong } from './speech.ts'
import { sentence } from '../frame/words.ts'

const able = typeof WebAssembly !== 'undefined' && typeof caches !== 'undefined'

/** The speech parts: what they do, how large they are, fetched and removed by hand. */
export function SpeechParts() {
  const [told, setTold] = useState({ words: '', wrong: false })
  const here = parts.value
  const now = fetching.value
  canHear()
  const [along, setAlong] = useState(false)
  useEffect(() => {
    void lookAtParts()
    void platformHears().then(setAlong)
  }, [])
  const act = async (work: () => Promise<void>, words: string) => {
    setTold({ words: '', wrong: false })
    await work().then(
      () => setTold({ words, wrong: false }),
      (fault) => setTold({ words: sentence(fault), wrong: true }),
    )
  }
  return (
    <section class="speech-parts">
      <h2>Speech on this phone</h2>
      <p class="small soft">
        With the speech parts this phone understands spoken figures and findings by itself, without signal. It knows the words of the
        workshop and no others, and it can mishear: what it understood is offered, and recorded only when somebody accepts it. Nothing
        that is said leaves the phone for this. Recordings are kept with or without the parts, and their text follows from the server.
      </p>
      <p>{able ? words(here) : 'This browser cannot run the speech parts. Recordings are kept, and their text follows from the server.'}</p>
      {now ? (
        <>
          <progress class="wide" max={now.of || 1} value={now.bytes} aria-label="Speech parts fetched" />
          <p role="status" class="figure small">
            {size(now.bytes)} of {size(now.of)}
          </p>
          <button type="button" onClick={stopFetching}>
            Stop
          </button>
        </>
      ) : (
        <div class="pair">
          {able && here.missing > 0 && (
            <button type="button" onClick={() => void act(() => fetchParts(), 'The speech parts are on this phone.')}>
              {here.state === 'none' ? 'Fetch the speech parts' : 'Fetch the rest'}, {size(here.missing)}
            </button>
          )}
          {here.done > 0 && (
            <button type="button" onClick={() => void act(removeParts, 'The speech parts are removed. No recording was touched.')}>
              Remove the speech parts
            </button>
          )}
        </div>
      )}
      <Told {...told} />
      {along && (
        <button type="button" class="wide" aria-pressed={hearsAlong()} onClick={() => letHearAlong(!hearsAlong())}>
          While a note is recorded, show what this browser hears by itself, on this phone
        </button>
      )}
    </section>
  )
}

function words({ state, done, of, bytes, missing, usable }: Parts): string {
  switch (state) {
    case 'unseen':
      return ''
    case 'here':
      return `They are on this phone: ${size(bytes)}.`
    case 'partly':
      return `${done} of ${of} files are on this phone; ${size(missing)} are still to come.`
    case 'old':
      return `They belong to an earlier build of the app${usable ? ' and still work' : ' and rest until the changed ones are fetched'}: ${size(missing)} have changed.`
    default:
      return bytes ? `They are not on this phone. They take ${size(bytes)}, and are fetched once.` : 'They are not on this phone. What they take is known when the server is reached.'
  }
}
