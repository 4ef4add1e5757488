// The shapes of /api/sync, under the names this room has for them. They are the server's own description.

export type {
  FeedDigest,
  Here,
  InclusionProof as Inclusion,
  Joined,
  Proof,
  Pulled as Page,
  PulledEntry,
  Pushed,
  PushResult as Result,
  SignedHead,
  SyncState as State,
} from '../wire/openapi.d.ts'
