// The round's form, made a little quicker: how a value compares with the last one is said while it is
// typed, and what was typed outlives a dead line or a flat battery. The page does the same without it,
// after the first send.
"use strict";
(function () {
  const done = document.currentScript && document.currentScript.dataset.sent;
  const store = {
    get(k) { try { return JSON.parse(localStorage.getItem(k)); } catch { return null; } },
    set(k, v) { try { localStorage.setItem(k, JSON.stringify(v)); } catch { /* full or forbidden: the paper is there */ } },
    drop(k) { try { localStorage.removeItem(k); } catch { /* likewise */ } },
  };
  if (done) { store.drop("round " + done); return; }
  const form = document.querySelector("form.round");
  if (!form) return;
  const at = "round " + form.getAttribute("action");
  const asked = Array.from(form.querySelectorAll("input[data-last]"));

  // number reads what a person types, NaN where it can be read in two ways or not at all.
  function number(text) {
    const plain = text.replace(/[\s\u00a0\u2009\u202f]/g, "").replace("−", "-");
    if (!/^[+-]?\d+([.,]\d*)?$/.test(plain) || /^[+-]?[1-9]\d{0,2},\d{3}$/.test(plain)) return NaN;
    return Number(plain.replace(",", "."));
  }
  function whole(x) {
    return String(Math.abs(Math.round(x))).replace(/\B(?=(\d{3})+$)/g, "\u202f");
  }
  // days from a moment on the plant's clocks to the one in the form.
  function days(since) {
    return (Date.parse(form.day.value + "T" + form.clock.value + "Z") - Date.parse(since + "Z")) / 864e5;
  }
  function when(since) {
    const n = Math.round((Date.parse(form.day.value) - Date.parse(since.slice(0, 10))) / 864e5);
    if (n === 0) return "earlier today";
    if (n < 0) return "a later day";
    return n === 1 ? "yesterday" : n + " days ago";
  }
  // run gives the litres that went through a meter, over a rollover, NaN where the register fell.
  function run(input) {
    let counts = number(input.value) - Number(input.dataset.last);
    const rolls = Number(input.dataset.rolls);
    if (counts < 0 && rolls && -counts > rolls / 2) counts += rolls;
    return counts < 0 ? NaN : counts * Number(input.dataset.per);
  }
  function through(litres, d, since) {
    let text = "about " + whole(litres) + "\u00a0" + form.dataset.volume + " since " + since;
    if (d < 0.9 || d > 1.1) text += ", " + whole(litres / d) + " a day";
    return text;
  }
  function usual() {
    if (!form.dataset.low) return "";
    return "; " + whole(form.dataset.low) + " to " + whole(form.dataset.high) + " a day is usual";
  }
  function compare(input, alone) {
    const says = document.getElementById(input.id + "-says"), value = number(input.value);
    const d = days(input.dataset.since), since = when(input.dataset.since);
    if (input.value === "") says.textContent = "";
    else if (Number.isNaN(value)) says.textContent = "this cannot be read as a number yet";
    else if (!input.dataset.per) {
      const step = value - Number(input.dataset.last), size = Math.round(Math.abs(step) * 1000) / 1000;
      says.textContent = step === 0 ? "the same as " + since : size + "\u00a0" +
        input.nextElementSibling.textContent + (step < 0 ? " less than " : " more than ") + since;
    } else if (Number.isNaN(run(input))) says.textContent = "less than " + since + ": a register does not run backward";
    else if (d > 0) says.textContent = through(run(input), d, since) + (alone ? usual() : "");
  }
  function compareAll() {
    const meters = asked.filter((i) => i.dataset.per), read = meters.filter((i) => i.value !== "");
    asked.forEach((i) => { if (i.value !== "" || i.dataset.seen) { i.dataset.seen = "1"; compare(i, meters.length === 1); } });
    if (meters.length < 2) return;
    const d = read.map((i) => days(i.dataset.since)), sum = read.reduce((s, i) => s + run(i), 0);
    const same = read.length === meters.length && d.every((x) => x > 0 && Math.abs(x - d[0]) < 0.13);
    document.getElementById("together").textContent =
      same && !Number.isNaN(sum) ? "Together " + through(sum, d[0], when(read[0].dataset.since)) + usual() + "." : "";
  }

  // What was typed is kept under the form's key until it is written.
  const kept = Array.from(form.elements).filter((e) => e.name && e.name !== "csrf" && e.name !== "confirm");
  function keep() {
    store.set(at, { at: Date.now(), values: kept.map((e) => [e.name, e.value]) });
  }
  function restore() {
    const draft = store.get(at);
    const blank = kept.every((e) => e.type === "hidden" || ["day", "clock", "who"].includes(e.name) || e.value === "");
    if (!draft || !blank || form.elements.again || Date.now() - draft.at > 12 * 36e5) return;
    const values = new Map(draft.values);
    if (values.has("again")) return;
    kept.forEach((e) => { if (values.has(e.name)) e.value = values.get(e.name); });
    const note = document.createElement("p");
    note.className = "warn";
    note.textContent = "What you typed before and did not send is back. Send it, or ";
    const afresh = document.createElement("a");
    afresh.href = form.getAttribute("action");
    afresh.textContent = "begin afresh";
    afresh.addEventListener("click", () => store.drop(at));
    note.append(afresh, ".");
    form.prepend(note);
    compareAll();
  }
  form.addEventListener("input", () => { keep(); compareAll(); });
  restore();
})();
