// Sends forms that bear data-send without leaving the page, and keeps what cannot be sent until the line is back.
//
// data-send="stay" shows the answer in this page, data-send="go" goes where the answer leads. What is typed survives a
// reload; what was sent without a line is sent once it is back, by whoever is signed in as the same person. Every such
// form may come twice: the server counts it once.

const WAITING = "toothsayer.waiting";
const RETRY_MS = 4000;
const SLOW_MS = 600;
const who = document.querySelector("[data-who]")?.dataset.who ?? "";

const bar = document.createElement("p");
bar.className = "told";
bar.setAttribute("role", "status");
document.body.append(bar);

function tell(words) {
  bar.textContent = words;
}

document.addEventListener("to-tell", (event) => tell(event.detail));

const waiting = () => JSON.parse(localStorage.getItem(WAITING) ?? "[]");
const keep = (letters) => localStorage.setItem(WAITING, JSON.stringify(letters));
const own = () => waiting().filter((letter) => letter.who === who);

function count() {
  const letters = own().length;
  if (letters) tell(letters === 1 ? "One entry waits for the line; it is kept here." : `${letters} entries wait for the line; they are kept here.`);
}

const post = (letter) =>
  fetch(letter.action, {
    method: "POST",
    body: letter.body,
    headers: { "content-type": "application/x-www-form-urlencoded", accept: "text/html" },
  });

// Whether the server took the letter or said why not; otherwise it waits.
const wasRead = (answer) => answer.status < 500 && answer.status !== 429 && !answer.url.includes("/sign-in");

async function send(form, submitter) {
  const body = new URLSearchParams(new FormData(form, submitter)).toString();
  const letter = { who, action: form.getAttribute("action"), body, name: nameOf(form) };
  // Not by disabling the buttons: they would lose the focus.
  if (form.ariaBusy === "true") return;
  form.ariaBusy = "true";
  const slow = setTimeout(() => tell("Working on it …"), SLOW_MS);
  let answer;
  try {
    answer = await post(letter);
    if (!wasRead(answer)) throw new Error(String(answer.status));
    await arrived(form, answer);
  } catch {
    if (!answer || !wasRead(answer)) {
      keep([...waiting(), letter]);
      forget(form);
      form.reset();
      count();
      if (answer?.url.includes("/sign-in")) location.assign(answer.url);
    }
  }
  clearTimeout(slow);
  form.ariaBusy = "false";
}

// Puts what is wrong beside the field that it was typed in; false where the page tells nothing of this form.
function putRight(form, page) {
  const wrong = page.querySelector("form .wrong");
  form.querySelectorAll(".wrong").forEach((old) => old.remove());
  if (!wrong) return false;
  wrong.closest("form").querySelectorAll(".wrong").forEach((one) => form.append(one));
  form.querySelector("input:not([type=hidden]), textarea, select")?.focus();
  return true;
}

async function arrived(form, answer) {
  const text = await answer.text();
  const page = new DOMParser().parseFromString(text, "text/html");
  if (answer.ok) forget(form);
  else if (putRight(form, page)) return tell("Not kept yet: see beside the field.");
  if (form.dataset.send === "go") {
    if (answer.ok) location.assign(answer.url);
    else if (page.querySelector("main")) document.querySelector("main").replaceWith(page.querySelector("main"));
  } else {
    document.dispatchEvent(new CustomEvent("page-came", { detail: { page, form: answer.ok ? form : null } }));
  }
  const problem = page.querySelector("[role=alert]");
  tell(answer.ok ? (form.dataset.told ?? "Kept.") : (problem?.textContent ?? "Not kept."));
  document.querySelector("[role=alert]")?.scrollIntoView({ block: "nearest" });
}

// Sends what waits, the oldest first, in one tab alone.
async function flush() {
  if (!own().length) return;
  await navigator.locks.request("toothsayer.letters", async () => {
    for (const letter of own()) {
      let answer;
      try {
        answer = await post(letter);
      } catch {
        return count();
      }
      if (!wasRead(answer)) return count();
      keep(waiting().filter((other) => JSON.stringify(other) !== JSON.stringify(letter)));
      const page = new DOMParser().parseFromString(await answer.text(), "text/html");
      document.dispatchEvent(new CustomEvent("page-came", { detail: { page, form: null } }));
      // What was refused is typed again where it was typed, to be put right there.
      if (!answer.ok) sessionStorage.setItem(letter.name, JSON.stringify([...new URLSearchParams(letter.body)]));
      tell(answer.ok ? "What waited was sent." : `Not kept: ${page.querySelector("[role=alert]")?.textContent ?? answer.status} What you typed stands in its form again.`);
    }
  });
}

// What is typed, by page and form.
const nameOf = (form) => `toothsayer.typed ${location.pathname}${location.search} ${form.getAttribute("action")} ${form.elements.check?.value ?? form.id}`;
const forget = (form) => sessionStorage.removeItem(nameOf(form));

function typed(event) {
  const form = event.target.form;
  if (!form?.matches("[data-send]")) return;
  const fields = [...new FormData(form)].filter(([name]) => form.elements[name]?.type !== "hidden");
  sessionStorage.setItem(nameOf(form), JSON.stringify(fields));
}

function restore(form) {
  const fields = JSON.parse(sessionStorage.getItem(nameOf(form)) ?? "[]");
  for (const [name, value] of fields) {
    const field = form.elements[name];
    if (!field || field.type === "hidden") continue;
    field.value = value;
    if (value) form.closest("details")?.setAttribute("open", "");
  }
}

document.querySelectorAll("form[data-send]").forEach(restore);
document.addEventListener("input", typed);
document.addEventListener("submit", (event) => {
  if (!event.target.matches("form[data-send]")) return;
  event.preventDefault();
  send(event.target, event.submitter);
});
addEventListener("online", flush);
setInterval(flush, RETRY_MS);
count();
flush();
