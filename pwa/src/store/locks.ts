// One at a time, in all tabs where the browser has Web Locks, else in this page. Correctness never hangs on it alone:
// whatever runs inside checks again within its transaction.

const queues = new Map<string, Promise<unknown>>()

/** Runs `work` after every earlier work of the same name has ended. */
export async function serialised<R>(name: string, work: () => Promise<R>): Promise<R> {
  if (typeof navigator !== 'undefined' && navigator.locks)
    return (await navigator.locks.request(`witnessmark-${name}`, work)) as R
  const before = queues.get(name) ?? Promise.resolve()
  const mine = before.then(work, work)
  queues.set(
    name,
    mine.catch(() => undefined),
  )
  return mine
}

/** Holds a name while `work` runs, so that other tabs see that it is being worked on. */
export function holding<R>(name: string, work: () => Promise<R>): Promise<R> {
  if (typeof navigator === 'undefined' || !navigator.locks) return work()
  return navigator.locks.request(`witnessmark-${name}`, work) as Promise<R>
}

/** Runs `work` only if nobody holds the name; null otherwise. */
export async function unlessHeld<R>(name: string, work: () => Promise<R>): Promise<R | null> {
  if (typeof navigator === 'undefined' || !navigator.locks) return work()
  return (await navigator.locks.request(`witnessmark-${name}`, { ifAvailable: true }, async (lock) => (lock ? work() : null))) as R | null
}
