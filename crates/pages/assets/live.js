// Keeps an open page as the records stand: parts that bear data-live are shown anew where they changed.
//
// The page is asked for again as a whole and compared part by part, so that there is one way to write it. A part in which
// somebody types stays as it is until they are done.

const main = document.querySelector("main[data-changes]");
const parts = () => main.querySelectorAll("[data-live]");
const written = new Map();

function remember() {
  for (const part of parts()) written.set(part.dataset.live, part.outerHTML);
}

function isBusy(part) {
  const typed = [...part.querySelectorAll("input:not([type=hidden]), textarea")];
  return typed.some((field) => field === document.activeElement || field.value !== field.defaultValue);
}

// Shows what is new in a page that came; `sent` is the form whose answer it is, and is shown anew in any case.
function show(page, sent) {
  const fresh = page.querySelector("main[data-changes]");
  if (!fresh) return;
  main.dataset.changes = fresh.dataset.changes;
  for (const part of parts()) {
    const name = part.dataset.live;
    const next = fresh.querySelector(`[data-live="${CSS.escape(name)}"]`);
    if (!next || next.outerHTML === written.get(name)) continue;
    if (isBusy(part) && !part.contains(sent)) continue;
    const html = next.outerHTML;
    // What somebody opened stays open.
    if (part.open) next.open = true;
    const focused = part.contains(document.activeElement);
    part.replaceWith(next);
    written.set(name, html);
    if (focused) focus(next);
  }
}

function focus(part) {
  const place = part.querySelector("h2, h3, h4") ?? part;
  place.tabIndex = -1;
  place.focus({ preventScroll: true });
}

let asking = false;
let again = false;

async function refresh() {
  if (asking) {
    again = true;
    return;
  }
  asking = true;
  try {
    const answer = await fetch(location.pathname + location.search, { headers: { accept: "text/html" } });
    if (answer.redirected) location.reload();
    else if (answer.ok) show(new DOMParser().parseFromString(await answer.text(), "text/html"), null);
  } catch {
    // No line: the stream of changes comes back with it and asks again.
  }
  asking = false;
  if (again) {
    again = false;
    await refresh();
  }
}

let stream = null;

// A page that is not looked at listens to nothing: browsers allow few connections to one place.
function listen() {
  if (document.hidden) {
    stream?.close();
    stream = null;
  } else if (!stream) {
    stream = new EventSource("/changes");
    stream.onmessage = (message) => {
      if (message.data !== main.dataset.changes) refresh();
    };
  }
}

if (main) {
  remember();
  document.addEventListener("visibilitychange", listen);
  document.addEventListener("page-came", (event) => show(event.detail.page, event.detail.form));
  listen();
}
