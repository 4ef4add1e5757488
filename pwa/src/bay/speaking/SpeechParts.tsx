import { useEffect, useState } from 'preact/hooks'
import { canHear } from '../../speech/hear.ts'
import { type Parts, fetchParts, fetching, lookAtParts, parts, removeParts, stopFetching } from '../../speech/parts.ts'
import { platformHears } from '../../speech/platform.ts'
import { size } from '../../store/index.ts'
import { StatusMessage } from '../frame/Frame.tsx'
import { hearsAlong, letHearAlong } from './speech.ts'
import { sentence } from '../frame/words.ts'
import { say } from '../frame/say.ts'

const able = typeof WebAssembly !== 'undefined' && typeof caches !== 'undefined'

/** The speech parts: what they do, how large they are; downloaded and removed by hand. */
export function SpeechParts() {
  const [message, setMessage] = useState({ words: '', wrong: false })
  const here = parts.value
  const now = fetching.value
  canHear()
  const [along, setAlong] = useState(false)
  useEffect(() => {
    void lookAtParts()
    void platformHears().then(setAlong)
  }, [])
  const act = async (work: () => Promise<void>, words: string) => {
    setMessage({ words: '', wrong: false })
    await work().then(
      () => setMessage({ words, wrong: false }),
      (fault) => setMessage({ words: sentence(fault), wrong: true }),
    )
  }
  return (
    <section class="speech-parts">
      <h2>{say('speech.title')}</h2>
      <p class="small soft">
        {say('speech.about')}
      </p>
      <p>{able ? words(here) : say('speech.cannot')}</p>
      {now ? (
        <>
          <progress class="wide" max={now.of || 1} value={now.bytes} aria-label={say('speech.downloading')} />
          <p role="status" class="figure small">
            {say('speech.progress', { done: size(now.bytes), all: size(now.of) })}
          </p>
          <button type="button" onClick={stopFetching}>
            {say('speech.stop')}
          </button>
        </>
      ) : (
        <div class="pair wraps">
          {able && here.missing > 0 && (
            <button type="button" onClick={() => void act(() => fetchParts(), say('speech.downloaded'))}>
              {here.state === 'none' ? say('speech.download', { size: size(here.missing) }) : say('speech.download_rest', { size: size(here.missing) })}
            </button>
          )}
          {here.done > 0 && (
            <button type="button" onClick={() => void act(removeParts, say('speech.removed'))}>
              {say('speech.remove')}
            </button>
          )}
        </div>
      )}
      <StatusMessage {...message} />
      {along && (
        <button type="button" class="wide" aria-pressed={hearsAlong()} onClick={() => letHearAlong(!hearsAlong())}>
          {say('speech.along')}
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
      return say('speech.here', { size: size(bytes) })
    case 'partly':
      return say('speech.partly', { done, all: of, size: size(missing) })
    case 'old':
      return usable
        ? say('speech.old_usable', { size: size(missing) })
        : say('speech.old', { size: size(missing) })
    default:
      return bytes ? say('speech.none', { size: size(bytes) }) : say('speech.none_size_unknown')
  }
}
