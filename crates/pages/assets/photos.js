// Keeps a photo that was taken without a line, and sends it once the line is back.
//
// Forms that bear data-photo are sent without leaving the page. What cannot be sent waits in the browser's own database,
// where it outlives a reload; every form bears a key, so that the server counts it once.

const RETRY_MS = 4000;
const who = document.querySelector("[data-who]")?.dataset.who ?? "";
const tell = (words) => document.dispatchEvent(new CustomEvent("to-tell", { detail: words }));

// One deed in the store of waiting photos; its answer once the deed is kept.
async function store(mode, deed) {
  const base = await new Promise((resolve, reject) => {
    const asked = indexedDB.open("toothsayer", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore("photos", { autoIncrement: true });
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => reject(asked.error);
  });
  return new Promise((resolve, reject) => {
    const transaction = base.transaction("photos", mode);
    const answer = deed(transaction.objectStore("photos"));
    transaction.oncomplete = () => resolve(answer.result);
    transaction.onabort = () => reject(transaction.error);
  }).finally(() => base.close());
}

// Whether the server took the photo or said why not; otherwise it waits.
const wasRead = (answer) => answer.status < 500 && answer.status !== 429 && !answer.url.includes("/sign-in");

const post = (action, fields) => {
  const body = new FormData();
  for (const [name, value] of fields) body.append(name, value);
  return fetch(action, { method: "POST", body, headers: { accept: "text/html" } });
};

async function send(form) {
  const [action, fields] = [form.getAttribute("action"), [...new FormData(form)]];
  let answer;
  try {
    answer = await post(action, fields);
    if (!wasRead(answer)) throw new Error(String(answer.status));
  } catch {
    await store("readwrite", (photos) => photos.add({ who, action, fields }));
    form.reset();
    return tell("The photo waits for the line; it is kept here.");
  }
  if (answer.ok) return location.assign(answer.url);
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (page.querySelector("main")) document.querySelector("main").replaceWith(page.querySelector("main"));
  tell("Not kept yet: see above.");
}

// Sends what waits, the oldest first, in one tab alone. What its job refuses is kept among the photos to be filed.
async function flush() {
  if (!navigator.onLine) return;
  await navigator.locks.request("toothsayer.photos", async () => {
    const [keys, letters] = [await store("readonly", (all) => all.getAllKeys()), await store("readonly", (all) => all.getAll())];
    for (const [place, letter] of letters.entries()) {
      if (letter.who !== who) continue;
      let answer;
      try {
        answer = await post(letter.action, letter.fields);
        if (answer.status === 422 || answer.status === 404) answer = await post("/photos", letter.fields);
      } catch {
        return;
      }
      if (!wasRead(answer)) return;
      await store("readwrite", (all) => all.delete(keys[place]));
      tell(answer.ok ? "The photo that waited was sent." : "The photo that waited is none that can be kept.");
    }
  });
}

document.addEventListener("submit", (event) => {
  if (!event.target.matches("form[data-photo]")) return;
  event.preventDefault();
  send(event.target);
});
addEventListener("online", flush);
setInterval(flush, RETRY_MS);
flush();
