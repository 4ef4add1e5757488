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
