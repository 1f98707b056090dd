// Wet hands tap twice. The second half of a double tap may find a page that came in between, and would do there what
// nobody meant; or it sends the same form again, and the answer to the first, with its button to take it back, is never
// seen. So it is swallowed. Other places, later taps, the keyboard and what a reader for the blind presses pass.
"use strict";
(() => {
  const SECOND_MS = 500, NEAR_PX = 30, LAST = "last-tap";

  function last() {
    try {
      return JSON.parse(sessionStorage.getItem(LAST));
    } catch {
      return null; // nothing can be kept here, so nothing is swallowed
    }
  }

  let before = last(); // the tap before this page, or this part of it, came, or that sent a form
  const came = () => { before = last(); };

  function isSecondHalf(tap) {
    if (!before) return false;
    const gone = tap.at - before.at; // below 0: the clock was set back
    if (gone < 0 || gone > SECOND_MS) return false;
    return Math.hypot(tap.x - before.x, tap.y - before.y) <= NEAR_PX;
  }

  addEventListener("click", (event) => {
    if (!event.isTrusted || !event.detail) return; // 0: by a key
    const tap = { at: performance.timeOrigin + event.timeStamp, x: event.screenX, y: event.screenY };
    if (isSecondHalf(tap)) {
      event.preventDefault();
      event.stopImmediatePropagation();
      return;
    }
    try {
      sessionStorage.setItem(LAST, JSON.stringify(tap));
    } catch {
      // no room: as above
    }
  }, true);
  addEventListener("pageshow", (event) => { if (event.persisted) came(); });
  addEventListener("htmx:afterSwap", came);
  addEventListener("submit", came, true);
})();
