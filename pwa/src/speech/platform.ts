// The browser's own recogniser, for notes, and only where it declares that it works on this phone: no word leaves it.

/** What is spoken here. */
const LANGUAGE = 'en-GB'
const LOCALLY = { langs: [LANGUAGE], processLocally: true }

interface Results {
  results: ArrayLike<ArrayLike<{ transcript: string }>>
}
interface Recognition {
  lang: string
  continuous: boolean
  interimResults: boolean
  processLocally: boolean
  onresult: ((event: Results) => void) | null
  onerror: ((event: unknown) => void) | null
  start(track: MediaStreamTrack): void
  stop(): void
}
interface Recogniser {
  new (): Recognition
  available?(options: typeof LOCALLY): Promise<string>
}

const recogniser = () => (globalThis as { SpeechRecognition?: Recogniser }).SpeechRecognition

/** True where the browser has a recogniser that works here, now, without being sent anything. It is never asked to fetch one. */
export async function platformHears(): Promise<boolean> {
  try {
    return (await recogniser()?.available?.(LOCALLY)) === 'available'
  } catch {
    return false
  }
}

/**
 * Hears along with a recording and gives the text so far, again with every word. Returns how to end it. Where the recogniser
 * does not keep to this phone, or breaks off, there is simply no text: the recording is what counts.
 */
export async function hearAlong(track: MediaStreamTrack, onText: (text: string) => void): Promise<() => void> {
  const nothing = () => undefined
  const Own = recogniser()
  if (!Own || !(await platformHears())) return nothing
  try {
    const recognition = new Own()
    // A browser that does not know this property would accept it as any other: it is there before we set it, or we do not start.
    if (!('processLocally' in recognition)) return nothing
    Object.assign(recognition, { lang: LANGUAGE, continuous: true, interimResults: true, processLocally: true })
    recognition.onresult = ({ results }) => onText(Array.from(results, (result) => result[0]?.transcript.trim() ?? '').join(' '))
    recognition.onerror = nothing
    recognition.start(track)
    return () => recognition.stop()
  } catch {
    return nothing
  }
}
