import { mount } from 'svelte'
import App from './App.svelte'
import './app.css'

const target = document.getElementById('app')
if (!target) throw new Error('index.html has no element with the id "app"')

// A page that was open while the studio was renewed asks for parts that are no more: it is loaded anew, once.
window.addEventListener('vite:preloadError', () => {
  const last = Number(sessionStorage.getItem('wallwright-renewed') ?? 0)
  if (Date.now() - last < 60_000 || !navigator.onLine) return
  sessionStorage.setItem('wallwright-renewed', String(Date.now()))
  location.reload()
})

export default mount(App, { target })
