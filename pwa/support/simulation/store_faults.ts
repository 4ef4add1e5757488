// Faults of IndexedDB, at any request and at the end of any transaction. Reaches into fake-indexeddb, which has no door for it.
import { FDBDatabase, FDBObjectStore, FDBRequest, FDBTransaction } from './fake.ts'

export type StoreFault = 'kill' | 'abort' | 'lost_commit'

/** Where one page stands: how many steps of its store are left until its fault, and whether it is still running. */
export class Steps {
  dead = false
  full = false
  taken = 0
  fault: StoreFault | null = null
  left = 0
  connections = new Set<any>()

  arm(fault: StoreFault, left: number): void {
    this.fault = fault
    this.left = left
  }

  /** The fault whose turn it is at this step, if any. 'lost_commit' waits for the next end of a transaction that wrote. */
  due(end: boolean, wrote: boolean): StoreFault | null {
    this.taken++
    if (this.fault === null || this.left-- > 0) return null
    if (this.fault === 'lost_commit' && !(end && wrote)) return null
    if (this.fault === 'abort' && end) return null
    const fault = this.fault
    this.fault = null
    return fault
  }

  /** The page is gone: nothing of it runs again, and what it had not committed never was. */
  die(): void {
    this.dead = true
    for (const db of this.connections)
      for (const tx of [...db._rawDatabase.transactions]) if (tx.db === db && tx._state !== 'finished') abort(tx, 'AbortError')
    this.connections.clear()
  }
}

function abort(tx: any, why: string): void {
  tx._abort(why)
  tx._rollbackLog = [] // done once; a second abort must not undo what came after
}

const stepsOf = (tx: any): Steps | undefined => tx.db?._steps

let growing = false
for (const name of ['put', 'add'] as const) {
  const real = FDBObjectStore.prototype[name]
  FDBObjectStore.prototype[name] = function (this: any, ...given: any[]) {
    growing = true
    try {
      return real.apply(this, given)
    } finally {
      growing = false
    }
  }
}

const execute = FDBTransaction.prototype._execRequestAsync
FDBTransaction.prototype._execRequestAsync = function (this: any, request: any) {
  const steps = stepsOf(this)
  if (!steps) return execute.call(this, request)
  if (steps.dead) throw new DOMException('', 'InvalidStateError')
  const { operation } = request
  const grows = growing
  request.operation = (...given: unknown[]) => {
    const fault = steps.due(false, false)
    if (fault === 'kill') steps.die()
    if (fault === 'kill' || steps.dead) throw new DOMException('', 'AbortError')
    if (fault === 'abort') throw new DOMException('', 'UnknownError')
    if (grows && steps.full) throw new DOMException('', 'QuotaExceededError')
    this._wrote ||= grows
    return operation(...given)
  }
  return execute.call(this, request)
}

// A page that is gone is told of nothing; the end of a transaction is a step like every request.
const dispatch = FDBTransaction.prototype.dispatchEvent
FDBTransaction.prototype.dispatchEvent = function (this: any, event: any) {
  const steps = stepsOf(this)
  if (!steps) return dispatch.call(this, event)
  if (event.type === 'complete' && !steps.dead) {
    const fault = steps.due(true, this._wrote === true)
    if (fault === 'kill') steps.die()
    if (fault === 'lost_commit') {
      // It is on the disk, and the browser says that it is not: the process that held the store died between the two.
      this.error = new DOMException('', 'UnknownError')
      Object.defineProperty(event, 'type', { value: 'abort' })
    }
  }
  if (steps.dead) return true
  return dispatch.call(this, event)
}

const dispatchOfRequest = FDBRequest.prototype.dispatchEvent
FDBRequest.prototype.dispatchEvent = function (this: any, event: any) {
  return stepsOf(this.transaction ?? {})?.dead ? true : dispatchOfRequest.call(this, event)
}

const transaction = FDBDatabase.prototype.transaction
FDBDatabase.prototype.transaction = function (this: any, ...given: any[]) {
  if (this._steps?.dead) throw new DOMException('', 'InvalidStateError')
  return transaction.apply(this, given)
}

/** The phone's own store, as this page opens it. */
export function opened(factory: any, steps: Steps) {
  return {
    open(name: string, version: number) {
      const request = factory.open(name, version)
      request.addEventListener('success', () => {
        request.result._steps = steps
        steps.connections.add(request.result)
      })
      return request
    },
  }
}
