/* A block of the timetable can be dragged up and down with a mouse or a pen; what comes of it is checked at once.
   A finger scrolls, and taps: the page of the task does the same. */
(() => {
  "use strict";
  const chart = document.querySelector("svg.chart"), form = document.getElementById("drag");
  if (!chart || !form) return;
  const perMinute = Number(chart.dataset.pxPerMin), step = 5, least = 6;
  let held = null;
  const minutes = (event) => Math.round((event.clientY - held.y) / held.scale / perMinute / step) * step;
  const clock = (minute) => `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;

  chart.addEventListener("dragstart", (event) => event.preventDefault());
  chart.addEventListener("pointerdown", (event) => {
    const block = event.target.closest("a.block");
    if (!block || event.pointerType === "touch" || event.button !== 0) return;
    held = { block, y: event.clientY, scale: chart.getScreenCTM().d, at: Number(block.dataset.at), moved: false };
  });
  addEventListener("pointermove", (event) => {
    if (!held || (!held.moved && Math.abs(event.clientY - held.y) < least)) return;
    held.moved = true;
    held.block.setAttribute("transform", `translate(0 ${minutes(event) * perMinute})`);
    held.block.classList.add("held");
  });
  addEventListener("pointerup", (event) => {
    if (!held) return;
    const { block, at, moved } = held, to = Math.min(Math.max(at + minutes(event), 0), 24 * 60 - step);
    held = null;
    if (!moved) return;
    block.addEventListener("click", (click) => click.preventDefault(), { once: true });
    if (to === at) { block.removeAttribute("transform"); block.classList.remove("held"); return; }
    form.action = block.getAttribute("href").replace("/timetable/task/", "/timetable/move/");
    form.elements.time.value = clock(to);
    form.submit();
  });
})();
