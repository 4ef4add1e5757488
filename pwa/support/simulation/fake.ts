// fake-indexeddb's own classes: its types name only the standard's, whose insides the faults do not know.
import * as fake from 'fake-indexeddb'

const { IDBCursor, IDBCursorWithValue, IDBDatabase, IDBFactory, IDBIndex, IDBKeyRange, IDBObjectStore, IDBOpenDBRequest, IDBRequest, IDBTransaction, IDBVersionChangeEvent } = fake as any

export const FDBDatabase = IDBDatabase
export const FDBObjectStore = IDBObjectStore
export const FDBRequest = IDBRequest
export const FDBTransaction = IDBTransaction
export const newStore = () => new IDBFactory()

/** The names under which a page finds them. */
export const classes: Record<string, unknown> = {
  IDBCursor, IDBCursorWithValue, IDBDatabase, IDBFactory, IDBIndex, IDBKeyRange, IDBObjectStore, IDBOpenDBRequest, IDBRequest, IDBTransaction, IDBVersionChangeEvent,
}
