// A form marked `data-keep` is never lost: while the server can't be reached, what was sent is kept on this device and
// sent when it can be reached again. The form's token makes it safe to send the same tap twice. Works on plain http.
"use strict";
(() => {
  const ANSWER_MS = 3000, AGAIN_MS = 4000;
  let isSending = false;

  function opened() {
    return new Promise((done, failed) => {
      const asked = indexedDB.open("stillroom", 1);
      asked.onupgradeneeded = () => asked.result.createObjectStore("taps", { keyPath: "token" });
      asked.onsuccess = () => done(asked.result);
      asked.onerror = () => failed(asked.error);
    });
  }

  // One request to the store; resolves when it is really written.
  async function taps(mode, act) {
    const database = await opened();
    try {
      return await new Promise((done, failed) => {
        const transaction = database.transaction("taps", mode, { durability: "strict" });
        const asked = act(transaction.objectStore("taps"));
        transaction.oncomplete = () => done(asked.result);
        transaction.onerror = transaction.onabort = () => failed(transaction.error);
      });
    } finally {
      database.close();
    }
  }

  const keep = (tap) => taps("readwrite", (store) => store.put(tap));
  const forget = (tap) => taps("readwrite", (store) => store.delete(tap.token));

  // The oldest first; none where this browser keeps nothing.
  async function all() {
    try {
      return (await taps("readonly", (store) => store.getAll())).sort((a, b) => a.at - b.at);
    } catch {
      return [];
    }
  }

  // "yes", "no", or "shut" when somebody has to sign in first.
  async function reach() {
    try {
      const answer = await fetch("/frame/reachable", { cache: "no-store", redirect: "manual", signal: AbortSignal.timeout?.(ANSWER_MS) });
      return answer.status === 204 ? "yes" : "shut";
    } catch {
      return "no";
    }
  }

  function part(name, text) {
    const made = document.createElement(name);
    made.textContent = text;
    return made;
  }

  function does(words, act) {
    const button = part("button", words);
    button.addEventListener("click", act);
    return button;
  }

  // Shows the form again with what was typed and what is asked. It carries the same token, so that the answer takes the
  // place of what is kept; until then it stays.
  async function answer(tap) {
    if ((await reach()) === "no") return;
    const form = part("form", "");
    [form.method, form.action, form.hidden] = ["post", tap.action, true];
    const anew = document.querySelector("[name=csrfmiddlewaretoken]")?.value;
    for (const [name, value] of tap.fields) {
      const field = part("input", "");
      [field.type, field.name, field.value] = ["hidden", name, name === "csrfmiddlewaretoken" && anew ? anew : value];
      form.append(field);
    }
    document.body.append(form);
    form.submit();
  }

  // Why a page says that it was refused, and whether the form stands there again to be answered.
  function told(page, tap) {
    const form = [...page.querySelectorAll("[name=once]")].find((field) => field.value === tap.token)?.form;
    const why = form ? form.querySelector(".wrong, .note p") : page.querySelector("main .note.stop:not(#kept-taps) p");
    return { isAsked: Boolean(form), why: why?.textContent.trim().slice(0, 300) ?? "" };
  }

  async function refusal(tap, response) {
    const page = new DOMParser().parseFromString(await response.text(), "text/html");
    return { ...tap, isRefused: true, ...told(page, tap) };
  }

  // The very form before it was sent has the token too, but not the reason.
  function isToldHere(tap) {
    const here = told(document, tap);
    return here.isAsked === tap.isAsked && here.why === tap.why;
  }

  // What was sent as any form is answered by the page that comes, as long as nothing failed.
  const isQuiet = (tap) => tap.isSent && !tap.isLate && !tap.isRefused;

  async function tell() {
    const kept = (await all()).filter((tap) => !isQuiet(tap) && !(tap.isAsked && isToldHere(tap)));
    document.getElementById("kept-taps")?.remove();
    if (!kept.length) return;
    const waiting = kept.filter((tap) => !tap.isRefused), note = part("div", "");
    note.id = "kept-taps";
    note.className = waiting.length ? "note soon" : "note stop";
    note.setAttribute("role", "status");
    if (waiting.length) {
      const names = waiting.map((tap) => tap.words).join("; ");
      note.append(part("p", `No connection to the kitchen. Kept on this device, and sent when it is back: ${names}.`));
    }
    for (const tap of kept.filter((one) => one.isRefused)) {
      const why = tap.why ? ` ${tap.why}` : "";
      const line = part("p", tap.isAsked ? `This needs an answer from you: ${tap.words}.${why} ` : `This could not be done any more: ${tap.words}.${why} Look at it, then do it anew. `);
      if (tap.isAsked) line.append(does("Answer it", () => answer(tap)), " ");
      line.append(does(tap.isAsked ? "Leave it" : "I have seen it", () => forget(tap).then(tell)));
      note.append(line);
    }
    document.getElementById("page").prepend(note);
  }

  // "done", "refused", or nothing where no answer came: it stays kept.
  async function answered(tap) {
    try {
      const body = new URLSearchParams(tap.fields);
      body.append("ago_s", Math.max(0, Math.round((Date.now() - tap.at) / 1000))); // when it was meant
      const response = await fetch(tap.action, { method: "POST", body, redirect: "manual", signal: AbortSignal.timeout?.(4 * ANSWER_MS) });
      if (response.status >= 500) return "";
      const isDone = response.type === "opaqueredirect" || response.ok, refused = isDone ? null : await refusal(tap, response);
      if (isDone || (tap.isSent && refused.why && isToldHere(refused))) await forget(tap);
      else await keep(refused);
      return isDone ? "done" : "refused";
    } catch {
      return "";
    }
  }

  // Only what is still kept: another page may have had the answer meanwhile.
  const late = (tap) => taps("readwrite", (store) => {
    const asked = store.get(tap.token);
    asked.onsuccess = () => { if (asked.result?.at === tap.at && !asked.result.isRefused) store.put({ ...tap, isLate: true }); };
    return asked;
  });

  // Sends what is kept, the oldest first; stops when the connection is lost again.
  async function send() {
    if (isSending) return;
    isSending = true;
    let isNew = false, isToTell = false;
    try {
      const waiting = (await all()).filter((one) => !one.isRefused);
      for (const [at, tap] of waiting.entries()) {
        const way = await reach();
        if (way === "shut") break;
        const came = way === "yes" ? await answered(tap) : "";
        if (!came) {
          const quiet = waiting.slice(at).filter(isQuiet);
          await Promise.all(quiet.map(late));
          isToTell ||= quiet.length > 0;
          break;
        }
        isToTell = true;
        isNew ||= !tap.isSent || (tap.isLate && came === "done");
      }
    } catch {
      // no room to write it down: it stays as it is
    } finally {
      isSending = false;
    }
    if (isToTell) await tell();
    if (isNew) location.reload();
  }

  // What is typed may be followed by something else, which is another form.
  function anew(form) {
    form.reset();
    form.elements.once.value = btoa(String.fromCharCode(...crypto.getRandomValues(new Uint8Array(24))));
    delete form.dataset.isGoing;
  }

  async function taken(event) {
    const form = event.target;
    if (!(form instanceof HTMLFormElement) || !("keep" in form.dataset)) return;
    event.preventDefault();
    if (form.dataset.isGoing) return;
    form.dataset.isGoing = "yes";
    const button = event.submitter, fields = [...new FormData(form)].map(([name, value]) => [name, String(value)]);
    if (button?.name) fields.push([button.name, button.value]);
    const token = form.elements.once.value;
    const typed = form.querySelector("input:is([type=text], [type=number], :not([type]))");
    const words = [form.dataset.keep, button?.getAttribute("aria-label") || button?.textContent.trim(), typed?.value].filter(Boolean).join(": ");
    const tap = { token, action: form.action, fields, words, at: Date.now(), isSent: false };
    try {
      await keep(tap);
      if ((await reach()) === "no") {
        if (!form.reportValidity()) { // nothing typed: nothing to keep
          delete form.dataset.isGoing;
          await forget(tap);
          return;
        }
        if (typed) anew(form);
        else if (button) [button.textContent, button.disabled] = ["Kept", true];
        await tell();
        return;
      }
      await keep({ ...tap, isSent: true }); // should the connection be lost this very moment, it goes once more
    } catch {
      // no room on this device: sent as any form
    }
    if (button?.name) {
      const chosen = part("input", "");
      [chosen.type, chosen.name, chosen.value] = ["hidden", button.name, button.value];
      form.append(chosen);
    }
    form.submit();
  }

  document.addEventListener("submit", taken);
  addEventListener("online", send);
  addEventListener("pageshow", (event) => { // back from another page: the forms may be sent again
    if (event.persisted) document.querySelectorAll("form[data-is-going]").forEach((form) => delete form.dataset.isGoing);
  });
  setInterval(async () => { if ((await all()).some((tap) => !tap.isRefused)) send(); }, AGAIN_MS);
  tell().then(send);
})();
