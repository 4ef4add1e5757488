// fake-indexeddb's own classes: its types name only the standard's, whose insides the faults do not know.
import * as fake from 'fake-indexeddb'

const { IDBCursor, IDBCursorWithValue, IDBDatabase, IDBFactory, IDBIndex, IDBKeyRange, IDBObjectStore, IDBOpenDBRequest, IDBRequest, IDBTransaction, IDBVersionChangeEvent } = fake as any

export const FDBDatabase = IDBDatabase
export const FDBObjectStore = IDBObjectStore
export const FDBRequest = IDBRequest
export const FDBTransaction = IDBTransaction
export const newStore = () => new IDBFactory()

/** A store with the same content, with nobody connected. Bytes are shared: a store never changes them in their place. */
export function copyOfStore(store: any): unknown {
  const copy = newStore()
  for (const [name, database] of store._databases) {
    const made = copied({ ...database, connections: [], transactions: [] }, Object.getPrototypeOf(database), new Map(), database)
    made.processTransactions = Object.getPrototypeOf(database).processTransactions.bind(made)
    copy._databases.set(name, made)
  }
  return copy
}

function copied(value: any, prototype: any, made: Map<unknown, unknown>, self: unknown = value): any {
  const copy = Object.create(prototype)
  made.set(self, copy)
  for (const key of Reflect.ownKeys(value)) copy[key] = copyOf(value[key], made)
  return copy
}

function copyOf(value: any, made: Map<unknown, unknown>): any {
  if (typeof value !== 'object' || value === null || value instanceof ArrayBuffer || ArrayBuffer.isView(value)) return value
  if (made.has(value)) return made.get(value)
  if (value instanceof Map) return new Map([...value].map(([key, member]) => [key, copyOf(member, made)]))
  if (Array.isArray(value)) return value.map((member) => copyOf(member, made))
  return copied(value, Object.getPrototypeOf(value), made)
}

/** The names under which a page finds them. */
export const classes: Record<string, unknown> = {
  IDBCursor, IDBCursorWithValue, IDBDatabase, IDBFactory, IDBIndex, IDBKeyRange, IDBObjectStore, IDBOpenDBRequest, IDBRequest, IDBTransaction, IDBVersionChangeEvent,
}
