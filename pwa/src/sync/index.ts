// The front of the room: main makes the object that screens are given.
import { backFromShelf, type Server } from '../store/index.ts'
import { join } from './join.ts'
import { sendNow } from './loop.ts'
import { fetchOriginal } from './others.ts'
import { status } from './status.ts'
import { update, updateNow } from './update.ts'

export const server: Server = {
  async join(code, phoneName) {
    await join(code, phoneName)
    // Names are here already; the records follow while somebody signs in.
    void sendNow()
  },
  sendNow,
  fetchOriginal,
  async tryAgain(shelfKey) {
    if (await backFromShelf(shelfKey)) await sendNow()
  },
  status,
  update,
  updateNow,
}

export { startLoop } from './loop.ts'
export { watchUpdates } from './update.ts'
