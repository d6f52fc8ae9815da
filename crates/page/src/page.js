"use strict";
(() => {
  const body = document.body;
  const key = "pithward/" + body.dataset.key;
  const all = (where, what) => Array.from(where.querySelectorAll(what));
  const said = (words, ...things) => things.reduce((text, thing) => text.replace("{}", () => thing), words);
  let marks = {};
  try { marks = JSON.parse(localStorage.getItem(key)) || {}; } catch { marks = {}; }
  const keep = () => { try { localStorage.setItem(key, JSON.stringify(marks)); } catch { /* private windows keep nothing */ } };
  const views = all(document, ".view");
  const logs = all(document, ".log");
  const job = document.getElementById("job");
  const walker = document.querySelector(".walker");
  const called = (log) => log.dataset.log;
  const boxesOf = (log) => all(log, ".mark");
  document.documentElement.classList.add("js");

  // How far each log is, and what is next.
  const state = logs.map((log, n) => {
    const line = job.querySelector(`.done[data-of="${n + 1}"]`);
    return { log, boxes: boxesOf(log), done: 0, line, link: line.closest("a"), told: log.querySelector(".done") };
  });
  const tellLog = (of) => {
    const count = of.boxes.length;
    of.done = of.boxes.filter((box) => box.checked).length;
    const words = of.done ? said(body.dataset.count, of.done, count) : "";
    of.told.textContent = words;
    of.line.textContent = of.done === count ? "\u2713" : words;
    const due = of.boxes.find((box) => !box.checked);
    of.boxes.forEach((box) => box.closest("li").classList.toggle("due", box === due));
  };
  const tellNext = () => {
    const next = state.findIndex((of) => of.done < of.boxes.length);
    state.forEach((of, n) => { of.link.className = n === next ? "ahead" : of.done === of.boxes.length ? "over" : ""; });
    const go = job.querySelector(".go-on");
    go.hidden = !logs.length;
    const begun = state.some((of) => of.done);
    go.textContent = next < 0 ? body.dataset.allDone : said(begun ? body.dataset.goOn : body.dataset.begin, called(logs[next]));
    go.href = next < 0 ? "#job" : `#log-${next + 1}`;
  };
  all(document, ".mark,.tick").forEach((box) => {
    box.checked = box.id in marks;
    box.addEventListener("change", () => {
      if (box.checked) marks[box.id] = new Date().toISOString(); else delete marks[box.id];
      keep();
      if (!box.matches(".mark")) return;
      tellLog(state[logs.indexOf(box.closest(".log"))]);
      tellNext();
    });
  });
  state.forEach(tellLog);
  tellNext();

  // What is open is what is printed: a view, or from the first one all cards.
  const printed = (which) => views.forEach((view) => view.classList.toggle("printed", which.includes(view)));
  let open = null;
  const usual = () => printed(open === job ? [job, ...logs] : [open]);
  const show = (moved) => {
    leave();
    let at = null;
    try { at = document.getElementById(decodeURIComponent(location.hash.slice(1))); } catch { at = null; }
    const was = open;
    open = (at && at.closest(".view")) || job;
    views.forEach((view) => view.classList.toggle("on", view === open));
    usual();
    if (!moved) return;
    if (at && at !== open) {
      at.scrollIntoView();
      return;
    }
    window.scrollTo(0, 0);
    const back = open === job && was && logs.includes(was) && job.querySelector(`a[href="#${was.id}"]`);
    const head = back || open.querySelector("h1");
    if (head) head.focus({ preventScroll: !back });
  };
  addEventListener("hashchange", () => show(true));
  all(document, ".print").forEach((button) => button.addEventListener("click", () => {
    const what = button.dataset.print;
    if (what) printed(what === "job" ? [job] : [job, ...logs]);
    window.print();
  }));
  addEventListener("afterprint", usual);

  // One step at a time.
  let steps = [];
  let here = -1;
  const stand = (n) => {
    if (n < 0 || n >= steps.length) return;
    if (here >= 0) steps[here].classList.remove("here");
    here = n;
    const log = steps[here].closest(".log");
    const after = logs[logs.indexOf(log) + 1];
    const last = here === steps.length - 1;
    steps[here].classList.add("here");
    log.querySelector(".where").textContent = said(body.dataset.step, here + 1, steps.length);
    walker.querySelector(".back").disabled = here === 0;
    const next = walker.querySelector(".next");
    const onward = walker.querySelector(".onward");
    next.disabled = last;
    next.hidden = last && Boolean(after);
    onward.hidden = !next.hidden;
    if (after) onward.textContent = said(body.dataset.nextLog, called(after));
    window.scrollTo(0, 0);
    steps[here].focus({ preventScroll: true });
  };
  const walk = (log) => {
    leave();
    steps = all(log, ".step");
    log.classList.add("now");
    body.classList.add("walking");
    walker.hidden = false;
    const due = steps.findIndex((step) => step.querySelector(".due"));
    const begun = boxesOf(log).some((box) => box.checked);
    stand(begun && due > 0 ? due : 0);
  };
  const leave = () => {
    if (here < 0) return;
    const log = steps[here].closest(".log");
    steps[here].classList.remove("here");
    log.querySelector(".where").textContent = "";
    log.classList.remove("now");
    body.classList.remove("walking");
    walker.hidden = true;
    here = -1;
    log.querySelector(".walk").focus();
  };
  all(document, ".walk").forEach((button) => button.addEventListener("click", () => walk(button.closest(".log"))));
  walker.querySelector(".back").addEventListener("click", () => stand(here - 1));
  walker.querySelector(".next").addEventListener("click", () => stand(here + 1));
  walker.querySelector(".all").addEventListener("click", leave);
  walker.querySelector(".onward").addEventListener("click", () => {
    const after = logs[logs.indexOf(steps[here].closest(".log")) + 1];
    addEventListener("hashchange", () => walk(after), { once: true });
    location.hash = after.id;
  });
  document.addEventListener("keydown", (event) => {
    if (here < 0 || event.ctrlKey || event.metaKey || event.altKey) return;
    const moves = { ArrowRight: 1, PageDown: 1, ArrowLeft: -1, PageUp: -1 };
    if (event.key in moves) { stand(here + moves[event.key]); event.preventDefault(); }
    if (event.key === "Escape") leave();
  });
  show(false);

  // What was marked, as lines that the tally reads: a log comes on with its first mark, and is off with its last.
  const quoted = (word) => /^[\p{L}\p{N}._\-]+$/u.test(word) ? word : `"${word.replace(/["\\]/g, "\\$&")}"`;
  const saved = () => {
    const lines = [];
    logs.forEach((log) => {
      const own = boxesOf(log);
      const times = own.filter((box) => box.checked).map((box) => marks[box.id]).sort();
      if (!times.length) return;
      const name = quoted(called(log));
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
    body.append(link);
    link.click();
    link.remove();
  });
})();
