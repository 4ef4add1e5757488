// Works beside the page: copies files and makes small pictures, so that the page stays free for the next touch.
import { shrink, type Shrunk } from './shrink.ts'

export type Job = { id: number; copy: File } | { id: number; shrink: ArrayBuffer }
export type Outcome = { id: number; bytes: ArrayBuffer } | { id: number; shrunk: Shrunk } | { id: number; fault: string }

interface Beside {
  onmessage: ((event: MessageEvent<Job>) => void) | null
  postMessage(outcome: Outcome, transfer: Transferable[]): void
}

const page = self as unknown as Beside

page.onmessage = async ({ data }) => {
  const { id } = data
  try {
    if ('copy' in data) {
      const bytes = await data.copy.arrayBuffer()
      page.postMessage({ id, bytes }, [bytes])
    } else {
      const shrunk = await shrink(new Blob([data.shrink]))
      page.postMessage({ id, shrunk }, shrunk.failed ? [] : [shrunk.small, shrunk.large])
    }
  } catch (fault) {
    page.postMessage({ id, fault: fault instanceof Error ? fault.name : String(fault) }, [])
  }
}
