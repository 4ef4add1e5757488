// Pictures of others: previews for the jobs chosen for this phone, an original when somebody opens it.
import { sha256Hex } from '../trade/ground/canonical.ts'
import { chosenJobs, phone, previewsMissing, putPreview, room } from '../store/index.ts'
import { NoAnswer, reach, refuseBad } from './api.ts'
import { progress } from './status.ts'
import { say } from '../store/say.ts'

const SIZES = { small: 320, large: 1600 } as const
const AT_ONCE = 40
const LARGE_UP_TO_SHARE = 0.5

/** Small previews of every chosen job first, then large ones while the phone has plenty of room. */
export async function fetchPreviews(beat: () => Promise<void>): Promise<void> {
  for (const size of ['small', 'large'] as const) {
    for (const job of await chosenJobs()) {
      for (const sha256 of await previewsMissing(job, size, AT_ONCE)) {
        if (size === 'large' && (room.value.tight || room.value.used > room.value.quota * LARGE_UP_TO_SHARE)) return
        progress.value = say('sync.fetching_pictures')
        const bytes = await picture(`/api/media/${sha256}/preview/${SIZES[size]}`)
        if (bytes) await putPreview(sha256, { [size]: bytes })
        await beat()
      }
    }
  }
  progress.value = ''
}

async function picture(path: string): Promise<ArrayBuffer | null> {
  const answer = await reach(path)
  // Not made yet, or not to be made: tried again in the next run.
  if (answer.status === 404) return null
  await refuseBad(answer)
  const bytes = await answer.arrayBuffer()
  return answer.headers.get('Content-Type')?.startsWith('image/') ? bytes : null
}

/** An original from the server, if its bytes are what its name says; null without signal. */
export async function fetchOriginal(sha256: string): Promise<Blob | null> {
  if (!phone.peek()) return null
  try {
    const answer = await reach(`/api/media/${sha256}/original`, { timeoutMs: 120_000 })
    if (!answer.ok) return null
    const bytes = await answer.arrayBuffer()
    if ((await sha256Hex(bytes)) !== sha256) return null
    return new Blob([bytes], { type: answer.headers.get('Content-Type') ?? '' })
  } catch (fault) {
    if (fault instanceof NoAnswer) return null
    throw fault
  }
}
