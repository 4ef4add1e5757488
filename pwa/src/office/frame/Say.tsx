// The names that the job's and the spoken rooms still use.
export { DoneNotice as Done, EmptyNotice as Empty, FaultNotice as Fault } from './notices.tsx'
