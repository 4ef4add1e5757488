import { render } from 'preact'
import { App } from './office/App.tsx'

const place = document.getElementById('office')
if (place) render(<App />, place)
