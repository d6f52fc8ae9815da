"use strict";
(() => {
  const key = "pithward/" + document.body.dataset.key;
  const all = (where, what) => Array.from(where.querySelectorAll(what));
  let marks = {};
  try { marks = JSON.parse(localStorage.getItem(key)) || {}; } catch { marks = {}; }
  const keep = () => { try { localStorage.setItem(key, JSON.stringify(marks)); } catch { /* private windows keep nothing */ } };
  const boxes = all(document, ".mark");
  const logs = all(document, ".log");

  const tell = () => logs.forEach((log, n) => {
    const own = all(log, ".mark");
    const done = own.filter((box) => box.checked).length;
    const words = done ? `${done} of ${own.length}` : "";
    log.querySelector(".done").textContent = words;
    const line = document.querySelector(`.order .done[data-of="${n + 1}"]`);
    if (line) line.textContent = done === own.length && done ? "\u2713" : words;
  });
  boxes.forEach((box) => {
    box.checked = box.id in marks;
    box.addEventListener("change", () => {
      if (box.checked) marks[box.id] = new Date().toISOString(); else delete marks[box.id];
      keep();
      tell();
    });
  });
  tell();

  // One step at a time.
  const walker = document.querySelector(".walker");
  let steps = [];
  let here = -1;
  const show = (n) => {
    if (n < 0 || n >= steps.length) return;
    if (here >= 0) steps[here].classList.remove("here");
    here = n;
    steps[here].classList.add("here");
    walker.querySelector(".back").disabled = here === 0;
    walker.querySelector(".next").disabled = here === steps.length - 1;
    window.scrollTo(0, 0);
    steps[here].focus({ preventScroll: true });
  };
  const walk = (log) => {
    leave();
    steps = all(log, ".step");
    log.classList.add("now");
    document.body.classList.add("walking");
    walker.hidden = false;
    const open = steps.findIndex((step) => all(step, ".mark").some((box) => !box.checked));
    const begun = all(log, ".mark").some((box) => box.checked);
    show(begun && open > 0 ? open : 0);
  };
  const leave = () => {
    if (here < 0) return;
    const log = steps[here].closest(".log");
    steps[here].classList.remove("here");
    log.classList.remove("now");
    document.body.classList.remove("walking");
    walker.hidden = true;
    here = -1;
    log.scrollIntoView();
    log.querySelector(".walk").focus();
  };
  all(document, ".walk").forEach((button) => button.addEventListener("click", () => walk(button.closest(".log"))));
  walker.querySelector(".back").addEventListener("click", () => show(here - 1));
  walker.querySelector(".next").addEventListener("click", () => show(here + 1));
  walker.querySelector(".all").addEventListener("click", leave);
  document.addEventListener("keydown", (event) => {
    if (here < 0 || event.ctrlKey || event.metaKey || event.altKey) return;
    const moves = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 };
    if (event.key in moves) { show(here + moves[event.key]); event.preventDefault(); }
    if (event.key === "Escape") leave();
  });

  // What was marked, as lines that the tally reads: a log comes on with its first mark, and is off with its last.
  const quoted = (word) => /^[\p{L}\p{N}._\-]+$/u.test(word) ? word : `"${word.replace(/["\\]/g, "\\$&")}"`;
  const saved = () => {
    const lines = [];
    logs.forEach((log) => {
      const own = all(log, ".mark");
      const times = own.filter((box) => box.checked).map((box) => marks[box.id]).sort();
      if (!times.length) return;
      const name = quoted(log.dataset.log);
      lines.push([times[0], `on ${name}`]);
      if (times.length === own.length) lines.push([times[times.length - 1], `off ${name} planned`]);
    });
    lines.sort((a, b) => (a[0] < b[0] ? -1 : a[0] > b[0] ? 1 : 0));
    return ["pithward tally 1", ...lines.map(([time, words]) => `${time} ${words}`), ""].join("\n");
  };
  document.querySelector(".save").addEventListener("click", () => {
    const link = document.createElement("a");
    link.href = "data:text/plain;charset=utf-8," + encodeURIComponent(saved());
    link.download = "marks.txt";
    document.body.append(link);
    link.click();
    link.remove();
  });
  document.querySelector(".print").addEventListener("click", () => window.print());
})();
