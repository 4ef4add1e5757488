import { render } from 'preact'
import { App } from './bay/App.tsx'

const place = document.getElementById('bay')
if (place) render(<App />, place)
