// Ties the bay together: the store first, then who and where, then the screen; sending and updates follow by themselves.
import './look/look.css'
import './bay/frame/frame.css'
import './trade/ground/tables.ts'
import { render } from 'preact'
import { App } from './bay/App.tsx'
import { boot, recordingNow, resume } from './capture/index.ts'
import { health, start } from './store/index.ts'
import { server, startLoop, watchUpdates } from './sync/index.ts'

async function begin(place: HTMLElement) {
  await start()
  const well = health.value.state === 'well'
  if (well) await resume()
  render(<App server={server} />, place)
  if (!well) return
  void watchUpdates(() => recordingNow.value)
  await startLoop(boot)
}

const place = document.getElementById('bay')
if (place) void begin(place)
