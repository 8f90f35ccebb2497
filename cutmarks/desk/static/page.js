"use strict";
/* The desk page. It holds no job: what is typed goes to the server at once, and what comes back is shown. Whatever a
   job says is put in as text. HTML comes from the server's templates alone, which escape it. */
(() => {
  const body = document.body, root = body.dataset.root, job = body.dataset.job;
  const tab = Math.random().toString(36).slice(2);
  const at = (id) => document.getElementById(id);
  const all = (what, under = document) => Array.from(under.querySelectorAll(what));
  const seen = { version: "", says: {}, drawings: [], asked: 0, drawn: "", formLost: false };
  let sending = Promise.resolve();
  let waiting = 0;

  const make = (tag, words = "", settings = {}) => {
    const one = document.createElement(tag);
    one.textContent = words;
    for (const [name, value] of Object.entries(settings)) {
      if (name in one) one[name] = value;
      else one.setAttribute(name, value);
    }
    return one;
  };

  /* ---- asking ---- */
  const sent = (action, given, settings = {}) => fetch(`${root}do/${action}/${job.split("/").map(encodeURIComponent).join("/")}`, {
    method: "POST",
    headers: { "Content-Type": "application/json" },
    body: JSON.stringify({ tab, ...given }),
    ...settings,
  });
  const ask = async (action, given = {}) => {
    const answer = await sent(action, given);
    if (!answer.ok) return { fault: await answer.text() };
    return answer.json();
  };

  /* One change after the other, each tried until it is kept: what the server never heard of is still here. */
  const changing = (action, given) => {
    waiting += 1;
    shownState();
    const turn = sending.then(async () => {
      for (;;) {
        try {
          const answer = await ask(action, typeof given === "function" ? given() : given);
          banner("gone", "");
          return answer;
        } catch (error) {
          banner("gone", "NOT KEPT: cutmarks page has ended, or is not answering. What you typed last is only here: leave this page open, start cutmarks page again, and copy it.");
          await new Promise((done) => setTimeout(done, 1500));
        }
      }
    });
    sending = turn.then(() => { waiting -= 1; shownState(); }, () => { waiting -= 1; shownState(); });
    return turn;
  };
  /* Who closes the tab in the pause after a key has what was typed sent all the same. */
  addEventListener("pagehide", () => {
    for (const field of all("[data-path]", at("form")).filter((one) => timers.has(one.dataset.path))) {
      clearTimeout(timers.get(field.dataset.path));
      timers.delete(field.dataset.path);
      sent("change", changed(field), { keepalive: true }).catch(() => {});
    }
  });
  addEventListener("beforeunload", (event) => { if (waiting || timers.size) event.preventDefault(); });

  /* Nothing moves under a finger: what would shift the page waits until it is lifted. */
  let pressed = false;
  let lifted = [];
  const still = () => (pressed ? new Promise((done) => lifted.push(done)) : Promise.resolve());
  const lift = () => setTimeout(() => { pressed = false; lifted.forEach((done) => done()); lifted = []; }, 0);
  addEventListener("pointerdown", () => { pressed = true; }, true);
  for (const end of ["pointerup", "pointercancel", "blur"]) addEventListener(end, lift, true);

  /* What is looked at stays where it is on the screen while notes come and go, and while the form is made anew: the
     field that is typed into, or else the first to be seen that is still there afterwards. */
  const KEPT = ["path", "said", "add"];
  const placeOf = (one) => KEPT.filter((name) => one.dataset[name] !== undefined)
    .map((name) => `[data-${name}="${CSS.escape(one.dataset[name])}"]`)[0];
  const steady = (change) => {
    const under = document.querySelector(".bar").getBoundingClientRect().bottom;
    const shown = all("[data-path], [data-said], [data-add]", at("form"))
      .map((one) => ({ one, top: one.getBoundingClientRect().top, place: placeOf(one) }))
      .filter(({ top }) => top >= under && top < innerHeight);
    const first = shown.find(({ one }) => one === document.activeElement);
    change();
    for (const { place, top } of first ? [first, ...shown] : shown) {
      const now = document.querySelector(place);
      if (!now) continue;
      scrollBy(0, now.getBoundingClientRect().top - top);
      return;
    }
  };

  /* ---- banners and state ---- */
  const banner = (name, words, buttons = []) => {
    if (words || document.querySelector(`[data-banner="${name}"]`)) steady(() => bannered(name, words, buttons));
  };
  const bannered = (name, words, buttons) => {
    let one = document.querySelector(`[data-banner="${name}"]`);
    if (!words) { if (one) one.remove(); return; }
    if (one && one.dataset.words === words) return;
    if (one) one.remove();
    one = make("div", "", { className: "banner" });
    one.dataset.banner = name;
    one.dataset.words = words;
    one.append(make("p", words));
    for (const [label, act] of buttons) {
      const button = make("button", label, { type: "button" });
      button.addEventListener("click", act);
      one.append(button);
    }
    at("banners").append(one);
  };
  const state = { saved: true, undo: "", redo: "" };
  const shownState = () => {
    const words = waiting || timers.size ? "keeping …" : state.saved ? "Saved" : "Kept, not saved yet";
    if (at("state").textContent !== words) at("state").textContent = words;
    at("state").classList.toggle("open", !state.saved);
    at("undo").disabled = !state.undo;
    at("redo").disabled = !state.redo;
    at("undo").title = state.undo ? `Undo: ${state.undo}` : "";
    at("redo").title = state.redo ? `Redo: ${state.redo}` : "";
    at("save").disabled = state.saved;
  };
  const took = (answer) => {
    if (answer.version === undefined) return false;
    const changed = answer.version !== seen.version;
    Object.assign(state, { saved: answer.saved, undo: answer.undo, redo: answer.redo });
    seen.version = answer.version;
    if (answer.told) banner("told", answer.told, [["Good", () => banner("told", "")]]);
    banner("outside", answer.outside
      ? "The file was changed by another program while there are changes here that are not saved. Which is to stand? The other stays one step back, under Undo."
      : "", [["What is here", () => whole("mine")], ["The file", () => whole("theirs")]]);
    shownState();
    return changed;
  };
  const say = (words, buttons = []) => banner("fault", words, words ? [...buttons, ["Good", () => banner("fault", "")]] : []);
  /* What was stopped at its limit may be tried for longer: the machine may be slow, or the job large. */
  const LONGER = "Try it for ten times as long";
  const refused = (answer, again) => {
    const line = make("p", answer.fault, { className: "says", "data-level": "fault" });
    if (answer.too_long) {
      const button = make("button", LONGER, { type: "button" });
      button.addEventListener("click", again);
      line.append(" ", button);
    }
    return line;
  };

  /* ---- sentences beside the fields ---- */
  const isOpen = (one) => one.level === "fault" || one.level === "wanted";
  const putSays = (says) => steady(() => saysPut(says));
  const saysPut = (says) => {
    seen.says = says;
    for (const place of all("[data-says]")) {
      const said = says[place.dataset.says] || [];
      const words = said.map((one) => one.text).join(" ");
      const level = said.some((one) => one.level === "fault") ? "fault" : said.length ? said[0].level : "";
      if (place.textContent !== words) place.textContent = words;
      if (place.dataset.level !== level) place.dataset.level = level;
      const field = document.querySelector(`[data-path="${CSS.escape(place.dataset.says)}"]`);
      if (field) field.setAttribute("aria-invalid", String(level === "fault"));
    }
    for (const id of ["top-says", "text-says"]) {
      const every = id === "text-says";
      const said = every ? Object.values(says).flat().filter(isOpen) : says[""] || [];
      at(id).replaceChildren(...said.map((one) => make("p", one.text, { className: "says", "data-level": one.level })));
    }
  };

  /* ---- why there is no pack yet, and the way to each place ---- */
  const MOST_PLACES = 5;
  const placed = (key) => document.querySelector(`[data-path="${CSS.escape(key)}"]`)
    || document.querySelector(`[data-thing="${CSS.escape(key)}"]`);
  const called = (key) => {
    const one = placed(key);
    if (!one) return "the file";
    const thing = one.closest("[data-thing]");
    const title = thing && thing.querySelector("legend, h2");
    const label = one.dataset.path !== undefined && one.closest(".row").querySelector("label");
    return [title && title.textContent.trim(), label && label.textContent.trim()].filter(Boolean).join(", ");
  };
  const toPlace = async (key) => {
    if (at("panel-form").hidden && placed(key)) await choose(at("tab-form"));
    const one = placed(key) || at("top-says");
    one.scrollIntoView({ block: "center" });
    const field = one.dataset.path !== undefined ? one : one.querySelector("input, select, button");
    if (field) field.focus({ preventScroll: true });
  };
  const way = (label, act) => {
    const button = make("button", label, { type: "button", className: "plain" });
    button.addEventListener("click", act);
    return button;
  };
  const why = (...lines) => at("make-why").replaceChildren(...lines.map((parts) => {
    const line = make("p");
    line.append(...parts);
    return line;
  }));
  const whyOpen = (says) => {
    const open = Object.entries(says).map(([key, said]) => [key, said.find(isOpen)]).filter(([, said]) => said);
    const rest = open.length - MOST_PLACES;
    why(["No pack yet. What is still open:"],
      ...open.slice(0, MOST_PLACES).map(([key, said]) => [way(called(key), () => toPlace(key)), ` ${said.text}`]),
      ...(rest > 0 ? [[`And ${rest} more.`]] : []));
  };
  const whyNot = (answer) => {
    if (answer.able) why();
    else if (answer.undecided.length) why([`No pack yet: ${answer.undecided.join(", ")} has no start. `, way("Choose one, or type it into the area", () => at("starts").focus())]);
    else why(["No pack yet: there is nothing to cut. Add what comes through, or a tile and where it goes. ", way("To the form", () => toPlace('["surfaces", 0]'))]);
  };

  /* ---- looking ---- */
  const SHOWN = ["drawings", "edges", "findings", "unlooked", "lands"];
  const older = (is) => {
    for (const id of SHOWN) at(id).classList.toggle("old", is);
    at("lands-old").hidden = !is;
  };
  const look = async (longer = false) => {
    const mine = ++seen.asked;
    const current = () => mine === seen.asked;
    /* Where the plan takes its time, the sentences beside the fields do not wait for it. */
    let answer;
    const early = setTimeout(async () => {
      let said;
      try { said = await ask("says"); } catch (error) { return; }
      await still();
      if (current() && !answer && said.says && said.version === seen.version) putSays(said.says);
    }, 150);
    try { answer = await ask("look", { longer }); } catch (error) { return; } finally { clearTimeout(early); }
    await still();
    if (!current() || answer.superseded) return;
    if (answer.fault) {
      at("seen-note").replaceChildren(refused(answer, () => look(true)));
      older(seen.drawings.length > 0);
      return;
    }
    if (answer.version !== seen.version) return;
    putSays(answer.says);
    if (answer.faults) {
      const count = Object.values(answer.says).flat().filter(isOpen).length;
      at("seen-note").textContent = `${count === 1 ? "1 thing is" : `${count} things are`} still open on the left${seen.drawings.length ? ": this is as it was before" : ""}.`;
      older(seen.drawings.length > 0);
      whyOpen(answer.says);
      for (const id of ["make", "make-shop"]) at(id).disabled = true;
      return;
    }
    at("seen-note").textContent = "";
    older(false);
    whyNot(answer);
    at("make").disabled = !answer.able;
    at("make-shop").disabled = !answer.able || !answer.pieces.length;
    draw(answer.drawings);
    find(answer);
    lands(answer);
    atTheWall(answer.pieces);
    at("edges").hidden = !answer.edges.length;
    at("edges-list").replaceChildren(...answer.edges.map((words) => make("li", words.replace(/(\d) (?=\d+\/\d)/g, "$1\u00a0")))); // a fraction stays with its inches
    at("assumed-box").hidden = !answer.assumed.length;
    at("assumed").replaceChildren(...answer.assumed.map((one) => make("li", one)));
    at("tap-note").hidden = false;
    seen.drawn = answer.version;
    body.dataset.drawn = answer.version;
  };

  const picture = (image, svg) => {
    const old = image.src;
    image.src = URL.createObjectURL(new Blob([svg], { type: "image/svg+xml" }));
    if (old.startsWith("blob:")) URL.revokeObjectURL(old);
  };
  const draw = (drawings) => {
    seen.drawings = drawings;
    const figures = all("#drawings figure");
    drawings.forEach((one, number) => {
      let figure = figures[number];
      if (!figure) {
        figure = make("figure");
        figure.append(make("img"), make("figcaption"));
        figure.firstChild.addEventListener("click", (event) => tapped(event, number));
        at("drawings").append(figure);
      }
      picture(figure.firstChild, one.svg);
      figure.firstChild.alt = `Elevation of ${one.surface}: its lines, tiles, holes and their names`;
      figure.lastChild.textContent = drawings.length > 1 ? one.surface : "";
    });
    figures.slice(drawings.length).forEach((one) => one.remove());
  };

  const item = (one) => {
    const line = make("li", "", { className: one.level.toLowerCase() });
    line.append(make("b", one.level), ` ${one.text}`);
    if (one.write && one.write.key) {
      const words = `${one.write.key}: ${one.write.value}${one.write.of}`;
      const button = make("button", `write ${words}`, { type: "button", className: "plain" });
      button.addEventListener("click", async () => { await flush(); await whole("change", { path: one.write.path, value: one.write.value }); });
      line.append(" ", button);
    }
    if (one.accepted) line.append(` Accepted: ${one.accepted}`);
    else if (one.level === "STOP" && one.rule) {
      const button = make("button", "accept it, with a reason", { type: "button", className: "plain" });
      button.addEventListener("click", () => accepting(line, button, one));
      line.append(" ", button);
      if (one.laid) {
        const other = make("button", "which start frees it?", { type: "button", className: "plain" });
        other.addEventListener("click", () => freeing(line, other, one));
        line.append(" ", other);
      }
    }
    return line;
  };
  /* The way out of a STOP: the starts with which it is gone, each to be taken. */
  const freeing = async (line, button, one) => {
    await flush();
    button.replaceWith(make("span", "looking …", { className: "quiet freeing" }));
    const shown = line.querySelector(".freeing");
    let answer;
    try { answer = await ask("frees", { rule: one.rule, about: one.about }); } catch (error) { shown.replaceWith(button); return; }
    if (answer.superseded) { shown.replaceWith(button); return; }
    const list = make("ul", "", { className: "plainly" });
    for (const offer of answer.offers || []) {
      const row = make("li", `${offer.words} `);
      const yes = make("button", `Take start ${offer.number}`, { type: "button", "aria-label": `Take start ${offer.number} of ${offer.surface}` });
      yes.addEventListener("click", () => taking(offer.surface, offer.number));
      row.append(yes);
      list.append(row);
    }
    shown.replaceWith(answer.fault || answer.none ? make("span", ` ${answer.fault || answer.none}`) : list);
  };
  const accepting = (line, button, one) => {
    const box = make("span", "", { className: "naming" });
    const field = make("input", "", { autocomplete: "off", "aria-label": `why you live with it: ${one.rule}`, placeholder: "e.g. the rose hides it" });
    const done = make("button", "Accept", { type: "button" });
    done.addEventListener("click", async () => {
      const answer = await whole("accept", { rule: one.rule, about: one.last, reason: field.value });
      if (answer.fault) field.focus();
    });
    box.append(field, done);
    button.replaceWith(box);
    field.focus();
  };
  const find = (answer) => steady(() => foundAt(answer));
  const foundAt = (answer) => {
    const findings = answer.findings;
    all("[data-found]").forEach((one) => one.replaceChildren());
    for (const one of findings) {
      const place = one.at && document.querySelector(`[data-found="${CSS.escape(one.at)}"]`);
      if (place) {
        const line = make("p", "", { className: one.level.toLowerCase() });
        line.append(make("b", one.level), ` ${one.text}`);
        place.append(line);
      }
    }
    at("findings").replaceChildren(...findings.map(item));
    if (!findings.length && !answer.unlooked.length) at("findings").append(make("li", "Nothing is against it.", { className: "quiet" }));
    at("unlooked").replaceChildren(...(answer.unlooked.length ? [make("h3", "Not looked at yet")] : []), ...answer.unlooked.map((words) => make("p", words)));
  };
  const lands = (answer) => {
    const holes = answer.holes.map((one) => [one.hole, one.piece, one.marks, one.cut, one.read, one.check]);
    const open = answer.clearances.map((one) => [one.hole, one.at, one.verdict]);
    const heads = holes.length ? ["hole", "on tile", "mark, on its face", "cut", "read first, on the wall", "check with"] : ["hole", "its middle", "so far"];
    at("lands").hidden = !holes.length && !open.length;
    const row = (tag) => (cells) => {
      const one = make("tr");
      one.append(...cells.map((words) => make(tag, words)));
      return one;
    };
    at("lands-head").replaceChildren(row("th")(heads));
    at("lands-body").replaceChildren(...(holes.length ? holes : open).map(row("td")));
  };

  /* ---- the form ---- */
  /* One after the other, so that the last that is shown is the newest. One that failed is made when we look round. */
  let putting = Promise.resolve();
  const put = (focus = "") => {
    putting = putting.catch(() => {}).then(() => formed(focus));
    return putting;
  };
  const formed = async (focus) => {
    const held = focus || (document.activeElement && document.activeElement.dataset && document.activeElement.dataset.path) || "";
    let answer;
    try { answer = await ask("form"); } catch (error) { seen.formLost = true; return; }
    await still();
    seen.formLost = Boolean(answer.superseded || answer.fault);
    if (answer.superseded) return;
    if (answer.fault) { say(answer.fault); return; }
    steady(() => formPut(answer, held, focus));
    body.dataset.formed = answer.version;
  };
  const formPut = (answer, held, focus) => {
    /* What was typed meanwhile, and has not been sent, is typed into the new form again. */
    const open = all("[data-path]", at("form")).filter((one) => one.dataset.was !== undefined && one.value !== one.dataset.was);
    const here = document.activeElement, caret = here && here.dataset && here.dataset.path && "selectionStart" in here ? [here.selectionStart, here.selectionEnd] : null;
    const lines = all("[data-said]", at("form")).map((one) => ({ place: placeOf(one), words: one.value, here: one === here }));
    if (answer.html) {
      at("form").innerHTML = answer.html; // made by the server's templates, which escape what a job says
      at("title").textContent = answer.title || job;
      document.title = answer.title || job;
      all("[data-path]", at("form")).forEach((one) => { one.dataset.was = one.value; });
      for (const one of open) {
        clearTimeout(timers.get(one.dataset.path));
        timers.delete(one.dataset.path);
        const anew = document.querySelector(`[data-path="${CSS.escape(one.dataset.path)}"]`);
        if (anew && anew.value !== one.value) { anew.value = one.value; typed(anew); }
      }
    } else {
      at("form").replaceChildren(make("p", "The form is here again once the file can be read.", { className: "quiet" }));
    }
    for (const { place, words, here: typing } of lines) {
      const line = document.querySelector(place);
      if (!line) continue;
      line.value = words;
      if (typing) line.focus({ preventScroll: true });
    }
    if (answer.units) dispatchEvent(new CustomEvent("units", { detail: answer.units }));
    saysPut(answer.says);
    const field = held && document.querySelector(`[data-path="${CSS.escape(held)}"]`);
    if (field) {
      field.focus({ preventScroll: !focus });
      if (focus && field.select) field.select();
      else if (caret && field.setSelectionRange) field.setSelectionRange(...caret);
    }
  };

  const timers = new Map();
  const typed = (field) => {
    const key = field.dataset.path;
    clearTimeout(timers.get(key));
    timers.set(key, setTimeout(() => keep(field), 150));
    shownState();
  };
  const changed = (field) => ({ path: JSON.parse(field.dataset.path), value: field.value, was: field.dataset.was, several: field.dataset.several === "1" });
  const keep = async (field) => {
    const key = field.dataset.path;
    clearTimeout(timers.get(key));
    timers.delete(key);
    let value = field.value;
    if (value === field.dataset.was) { shownState(); return; }
    const answer = await changing("change", () => {
      value = field.value; // what is sent is what stands there by then
      return changed(field);
    });
    /* Where the same stands there already, it was sent before the form was made anew. */
    if (answer.differs !== undefined && answer.differs !== value.trim().replace(/\s+/g, " ")) {
      took(answer);
      apart(field, answer.differs);
      return;
    }
    if (answer.fault) { beside(field, answer.fault); took(answer); return; }
    field.dataset.was = value;
    if (took(answer)) look();
    /* What a thing is called stands in other places too: they follow once the field is left. */
    if (/"(name|kind)"\]$/.test(key)) {
      if (document.activeElement !== field) put(); else field.dataset.stale = "1";
    }
  };
  const beside = (field, words) => {
    const place = document.querySelector(`[data-says="${CSS.escape(field.dataset.path)}"]`);
    if (place) { place.textContent = words; place.dataset.level = "fault"; } else say(words);
  };
  /* Another tab changed the same field: neither is lost. */
  const apart = (field, theirs) => {
    const mine = field.value;
    const row = field.closest(".row");
    all(".apart", row).forEach((one) => one.remove());
    const note = make("p", `Changed meanwhile in another tab, to "${theirs}". Yours, "${mine}", is not kept yet. `, { className: "apart", role: "alert" });
    const ours = make("button", "Keep mine", { type: "button" });
    const other = make("button", "Keep the other", { type: "button" });
    ours.addEventListener("click", () => { field.dataset.was = theirs; note.remove(); keep(field); });
    other.addEventListener("click", () => { field.value = theirs; field.dataset.was = theirs; note.remove(); put(field.dataset.path).then(look); });
    note.append(ours, other);
    row.append(note);
  };

  at("form").addEventListener("input", (event) => { if (event.target.dataset.path) typed(event.target); });
  at("form").addEventListener("change", (event) => { if (event.target.dataset.path) keep(event.target); });
  at("form").addEventListener("focusout", (event) => {
    const field = event.target;
    if (field.dataset.path && timers.has(field.dataset.path)) keep(field);
    else if (field.dataset.stale) { delete field.dataset.stale; setTimeout(put, 0); }
  });

  const hint = (words) => { at("hint").textContent = words; at("hint").hidden = !words; };
  at("form").addEventListener("focusin", (event) => {
    const about = event.target.dataset.path && event.target.parentElement.querySelector(".about");
    hint(about ? about.textContent : "");
  });
  at("form").addEventListener("focusout", () => hint(""));

  const whole = async (action, given = {}, focus = "") => {
    const answer = await changing(action, given);
    if (answer.fault) {
      say(answer.fault, answer.too_long ? [[LONGER, () => whole(action, { ...given, longer: true }, focus)]] : []);
      took(answer);
      return answer;
    }
    say("");
    took(answer);
    await put(focus);
    if (!at("panel-text").hidden) await text();
    look();
    return answer;
  };
  const flush = () => Promise.all(all("[data-path]", at("form")).filter((one) => timers.has(one.dataset.path)).map(keep));

  at("form").addEventListener("click", async (event) => {
    const button = event.target.closest("button");
    if (!button) return;
    const data = button.dataset;
    if (data.add !== undefined) {
      await flush();
      const given = { path: JSON.parse(data.add), kind: data.kind, of: data.of || "" };
      if (["tile", "line"].includes(data.kind)) { naming(button, given); return; }
      const answer = await whole("add", given);
      if (answer.at) focusIn(JSON.stringify(answer.at).replace(/,/g, ", "));
    } else if (data.remove !== undefined) {
      await flush();
      await whole("remove", { path: JSON.parse(data.remove) });
    } else if (data.rename !== undefined) {
      naming(button, { path: JSON.parse(data.rename) }, data.name);
    } else if (data.more !== undefined) {
      more(button);
    }
  });
  at("form").addEventListener("keydown", async (event) => {
    const field = event.target;
    if (event.key !== "Enter" || field.dataset.said === undefined || !field.value.trim()) return;
    event.preventDefault();
    const words = field.value, place = placeOf(field);
    field.value = ""; // it is empty for the next; what was said has a box of its own
    const answer = await whole("add", { path: JSON.parse(field.dataset.said), kind: field.dataset.kind, said: words });
    const line = document.querySelector(place);
    if (answer.fault && line && !line.value) line.value = words;
  });
  const focusIn = (key) => {
    const thing = document.querySelector(`[data-thing="${CSS.escape(key)}"]`);
    const field = thing && thing.querySelector("[data-path]");
    if (field) { field.focus(); if (field.select) field.select(); }
  };
  /* A thing that stands behind its name is asked for it first. */
  const naming = (button, given, old = "") => {
    const holder = button.parentElement;
    if (holder.querySelector(".naming")) return;
    const box = make("span", "", { className: "naming" });
    const field = make("input", "", { value: old, autocomplete: "off", "aria-label": old ? `another name for ${old}` : `name of the ${given.kind}` });
    const done = make("button", old ? "Rename" : "Add", { type: "button" });
    const act = async () => {
      if (!field.value.trim()) { field.focus(); return; }
      await flush();
      await whole(old ? "rename" : "add", { ...given, name: field.value });
      if (!old) focusIn(JSON.stringify([...given.path, field.value.trim().toLowerCase()]).replace(/","/g, '", "').replace(/,(\d)/g, ", $1").replace(/(\d),/g, "$1, "));
    };
    done.addEventListener("click", (event) => { event.stopPropagation(); act(); });
    field.addEventListener("keydown", (event) => { if (event.key === "Enter") act(); });
    box.append(field, done);
    holder.append(box);
    field.focus();
  };
  /* What else a thing may say: from the list of its keys. */
  const more = (button) => {
    const keys = document.querySelector(`template[data-keys="${CSS.escape(button.dataset.more)}"]`);
    const holder = button.parentElement;
    if (!keys || holder.querySelector("select")) return;
    const choice = make("select", "", { "aria-label": "what else to say" });
    choice.append(make("option", "choose what to say", { value: "" }), keys.content.cloneNode(true));
    choice.addEventListener("change", () => {
      const one = choice.selectedOptions[0];
      if (!one.value) return;
      const key = JSON.stringify([...JSON.parse(button.dataset.at), one.value]).replace(/,/g, ", ");
      const there = document.querySelector(`[data-path="${CSS.escape(key)}"]`);
      if (there) { there.focus(); choice.remove(); return; }
      const row = make("div", "", { className: "row" });
      const id = `m-${Date.now()}`;
      const name = make("label", one.value, { htmlFor: id });
      const inside = make("div", "", { className: "in" });
      const words = one.dataset.choices ? one.dataset.choices.split("|") : [];
      const field = make(words.length ? "select" : "input", "", { id, placeholder: one.dataset.example && `e.g. ${one.dataset.example}`, autocomplete: "off" });
      if (words.length) field.append(...["", ...words].map((word) => make("option", word)));
      field.dataset.path = key;
      field.dataset.was = "";
      field.dataset.several = one.dataset.several;
      inside.append(field, make("p", one.dataset.about, { className: "about" }), make("p", "", { className: "says", "data-says": key }));
      row.append(name, inside);
      holder.before(row);
      choice.remove();
      field.focus();
    });
    holder.append(choice);
    choice.focus();
  };

  /* ---- the file as text ---- */
  const text = async () => {
    const answer = await changing("state", { text: true });
    took(answer);
    const box = at("text");
    if (box.value !== answer.text) box.value = answer.text;
    box.dataset.on = answer.version;
  };
  let textTimer = 0;
  const keepText = async () => {
    clearTimeout(textTimer);
    textTimer = 0;
    const box = at("text");
    const answer = await changing("text", () => ({ text: box.value, on: box.dataset.on }));
    if (answer.differs !== undefined) {
      took(answer);
      banner("text", "The job was changed in another tab meanwhile, and what you typed here is not kept yet. The other stays one step back, under Undo.", [
        ["Keep what is here", () => { box.dataset.on = answer.version; banner("text", ""); keepText(); }],
        ["Keep the other", () => { banner("text", ""); text().then(look); }],
      ]);
      return;
    }
    if (answer.fault) { say(answer.fault); return; }
    box.dataset.on = answer.version;
    if (took(answer)) look();
  };
  at("text").addEventListener("input", () => { clearTimeout(textTimer); textTimer = setTimeout(keepText, 250); });

  const tabs = all("[role=tab]");
  const choose = async (one) => {
    if (textTimer) await keepText();
    await flush();
    for (const other of tabs) {
      const chosen = other === one;
      other.setAttribute("aria-selected", String(chosen));
      other.tabIndex = chosen ? 0 : -1;
      at(other.getAttribute("aria-controls")).hidden = !chosen;
    }
    if (one.id === "tab-text") await text(); else await put();
  };
  for (const one of tabs) {
    one.addEventListener("click", () => choose(one));
    one.addEventListener("keydown", (event) => {
      if (event.key !== "ArrowLeft" && event.key !== "ArrowRight") return;
      const other = tabs[1 - tabs.indexOf(one)];
      other.focus();
      choose(other);
    });
  }

  /* ---- a tap on the drawing ---- */
  let tapFor = null;
  const tapped = async (event, number) => {
    const one = seen.drawings[number], image = event.currentTarget, box = image.getBoundingClientRect();
    const size = Math.min(box.width / one.width, box.height / one.height); // it is fitted into its box, in the middle
    const x = one.width / 2 + (event.clientX - box.left - box.width / 2) / size;
    const y = one.height / 2 - (event.clientY - box.top - box.height / 2) / size;
    let near;
    try { near = await ask("near", { surface: one.surface, x: (x - one.dx) / one.scale, y: (y - one.dy) / one.scale }); } catch (error) { return; }
    if (near.fault || near.superseded) { if (near.fault) say(near.fault); return; }
    tapFor = { surface: number, near };
    at("tapped").hidden = false;
    at("tap-words").textContent = `You tapped near ${near.across}, ${near.up}. Now type what the tape reads, to both sides of it.`;
    const side = (words) => words.replace(/^on /, "  right of ").replace(/^\S+(?: \d+\/\d+)? /, " ");
    for (const [id, words] of [["t-across", near.across], ["t-up", near.up]]) at(id).value = side(words).trimEnd();
    at("t-up-label").textContent = near.floor ? "in" : "up";
    at("t-name").focus();
  };
  for (const id of ["t-across", "t-up"]) at(id).addEventListener("focus", () => at(id).setSelectionRange(0, 0));
  at("t-cancel").addEventListener("click", () => { at("tapped").hidden = true; });
  at("t-add").addEventListener("click", async () => {
    const value = (id) => at(id).value.trim();
    const group = all("[data-group]").filter((one) => /"holes"\]$/.test(one.dataset.group))[tapFor.surface];
    const given = { path: JSON.parse(group.dataset.group), kind: "hole", name: value("t-name") };
    given.keys = { what: value("t-what"), across: value("t-across"), up: value("t-up"), cover: value("t-cover") };
    const answer = await whole("add", given);
    if (answer.fault) return;
    at("tapped").hidden = true;
    for (const id of ["t-name", "t-what", "t-across", "t-up", "t-cover"]) at(id).value = "";
    focusIn(JSON.stringify(answer.at).replace(/,/g, ", "));
  });

  /* ---- undo, redo, save ---- */
  at("undo").addEventListener("click", async () => { await flush(); whole("undo"); });
  at("redo").addEventListener("click", () => whole("redo"));
  const save = async () => {
    await flush();
    if (textTimer) await keepText();
    const answer = await changing("save", {});
    took(answer);
    if (answer.fault) {
      say(answer.fault);
      took(await changing("state", {}));
    } else say(answer.unsure || "");
  };
  at("save").addEventListener("click", save);
  addEventListener("keydown", (event) => {
    if (!(event.ctrlKey || event.metaKey)) return;
    const key = event.key.toLowerCase(), typing = /^(INPUT|TEXTAREA)$/.test(document.activeElement.tagName);
    if (key === "s") { event.preventDefault(); save(); }
    else if (key === "z" && !typing) { event.preventDefault(); whole(event.shiftKey ? "redo" : "undo"); }
  });

  /* ---- starts ---- */
  const starts = async (longer) => {
    await flush();
    at("start-choices").replaceChildren(make("p", "Looking …", { role: "status" }));
    let answer;
    try { answer = await ask("starts", { longer }); } catch (error) { return; }
    if (answer.superseded) return;
    if (answer.fault) { at("start-choices").replaceChildren(refused(answer, () => starts(true))); return; }
    at("start-choices").innerHTML = answer.html; // made by the server's templates
    all("[data-picture]", at("start-choices")).forEach((one) => picture(one, answer.pictures[one.dataset.of][one.dataset.picture]));
  };
  at("starts").addEventListener("click", () => starts(false));
  at("start-choices").addEventListener("click", async (event) => {
    const data = event.target.dataset;
    if (data.starts !== undefined) { await flush(); await pdf(event.target, "starts_page", { surface: data.starts }); }
    if (data.take !== undefined) await taking(data.surface, Number(data.take));
  });
  const taking = async (surface, number) => {
    const answer = await whole("take", { surface, number });
    if (!answer.fault) at("start-choices").replaceChildren(make("p", `Start ${number} is written into the job. Undo takes it back.`, { role: "status" }));
  };
  /* A page that is made for this alone stands behind its button, to be kept or printed. */
  const pdf = async (button, action, given) => {
    const old = button.nextElementSibling;
    if (old && old.download) { URL.revokeObjectURL(old.href); old.remove(); }
    button.disabled = true;
    let answer;
    try { answer = await ask(action, given); } catch (error) { return; } finally { button.disabled = false; }
    if (answer.fault) { say(answer.fault); return; }
    if (!answer.pdf) return;
    const content = Uint8Array.from(atob(answer.pdf), (one) => one.charCodeAt(0));
    const href = URL.createObjectURL(new Blob([content], { type: "application/pdf" }));
    button.after(make("a", `Here it is: ${answer.name}`, { href, download: answer.name, className: "made" }));
  };

  /* ---- to read ---- */
  const tell = async (what, longer) => {
    await flush();
    const box = at("told");
    box.hidden = false;
    box.replaceChildren(make("p", "Looking …"));
    let answer;
    try { answer = await ask("told", { what, longer }); } catch (error) { return; }
    if (answer.superseded) return;
    if (answer.fault) { box.replaceChildren(refused(answer, () => tell(what, true))); return; }
    box.replaceChildren(...answer.parts.flatMap((part) => {
      const list = make("ul");
      list.append(...part.lines.map((words) => make("li", words)));
      return [make("h3", part.heading), list];
    }));
    box.scrollTop = 0;
  };
  for (const button of all("[data-told]")) button.addEventListener("click", () => tell(button.dataset.told, false));

  /* ---- the pack ---- */
  const address = (kind, file = "") => `${root}${kind}/${job.split("/").map(encodeURIComponent).join("/")}${file}`;
  const wished = () => {
    const wishes = {};
    for (const one of all("[data-wish]")) {
      const value = one.type === "checkbox" ? one.checked : one.value.trim();
      if (value) wishes[one.dataset.wish] = value;
    }
    if (wishes.printer) [wishes.printer, wishes.tray] = JSON.parse(wishes.printer);
    return wishes;
  };
  let making = "make";
  const tooLong = {}; // what was stopped at its limit may take longer at the next press
  all("[data-make]").forEach((button) => button.addEventListener("click", async () => {
    await flush();
    if (textTimer) await keepText();
    const what = making = button.dataset.make;
    at("pack").replaceChildren();
    at("making").textContent = "Saving, then making …";
    let answer = await changing(what, { ...wished(), longer: Boolean(tooLong[what]) });
    took(answer);
    if (answer.fault) { at("making").textContent = answer.fault; took(await changing("state", {})); return; }
    at("stop-making").hidden = false;
    at("made").hidden = false;
    for (;;) {
      try { answer = await ask("making", { what }); } catch (error) { answer = { busy: true }; }
      if (!answer.busy) break;
      if (answer.count) {
        at("made").max = answer.count;
        at("made").value = answer.done;
        at("making").textContent = `${answer.done} of ${answer.count}`;
      }
      await new Promise((done) => setTimeout(done, 150));
    }
    at("stop-making").hidden = true;
    at("made").hidden = true;
    tooLong[what] = Boolean(answer.too_long);
    if (answer.fault) { at("making").textContent = answer.fault; return; }
    at("making").textContent = `Made: ${answer.count} files in the folder ${answer.folder}, beside the job.`;
    const names = { "pack.pdf": "The pack, to print at 100 %", "job-sheet.pdf": "The job sheet", "set-out.pdf": "The set-out page", "clearance.pdf": "The clearance sheet", "wall.html": "The page for the phone at the wall", "holes.csv": "The list of holes, as a table to be kept", "pieces.csv": "The list of pieces, likewise" };
    const list = make("ul", "", { className: "list" });
    for (const file of answer.files) {
      const line = make("li");
      const place = { href: address("pack", `/-/${file}`) };
      /* A list is kept, for a table of figures to be opened with; what can be seen is shown beside this page. */
      Object.assign(place, file.endsWith(".csv") ? { download: file } : { target: "_blank", rel: "noopener" });
      line.append(make("a", (answer.called || {})[file] || names[file] || file, place), make("span", ` ${file}`, { className: "quiet" }));
      list.append(line);
    }
    const line = make("li");
    line.append(make("a", "All of it, in one ZIP", { href: address(what === "shop" ? "shop" : "zip"), download: `${answer.folder}.zip` }));
    list.append(line);
    at("pack").replaceChildren(...answer.said.map((one) => make("p", one, { className: "said" })), list);
  }));
  at("stop-making").addEventListener("click", () => ask("stop", { what: making }).catch(() => {}));

  /* ---- printers ---- */
  const printers = async () => {
    let answer;
    try { answer = await ask("printers"); } catch (error) { return; }
    if (answer.fault) { at("p-said").textContent = answer.fault; return; }
    const chosen = at("w-printer").value;
    at("w-printer").replaceChildren(at("w-printer").firstElementChild, ...answer.printers.map((one) => make("option", one.words, { value: JSON.stringify([one.name, one.tray]) })));
    at("w-printer").value = chosen;
    if (at("w-printer").selectedIndex < 0) at("w-printer").value = "";
  };
  const tray = () => Object.fromEntries(all("[data-printer]").map((one) => [one.dataset.printer, one.type === "checkbox" ? one.checked : one.value.trim()]));
  for (const id of ["wishes", "printers"]) at(id).addEventListener("toggle", printers);
  at("p-page").addEventListener("click", () => pdf(at("p-page"), "test_page", tray()));
  at("p-keep").addEventListener("click", async () => {
    const answer = await changing("measured", { ...tray(), today: today() });
    at("p-said").textContent = answer.fault || answer.said;
    printers();
  });
  const today = () => {
    const now = new Date();
    return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((one) => String(one).padStart(2, "0")).join("-");
  };

  /* ---- back from the wall ---- */
  const list = (lines, kind) => {
    const one = make("ul", "", { className: kind });
    one.append(...lines.map((words) => make("li", words)));
    return one;
  };
  /* What would be kept is shown, and kept once that is said. */
  const offered = (answer, box, words, given) => {
    const found = make("ul", "", { className: "findings" });
    found.append(...answer.findings.map(item));
    const yes = make("button", words, { type: "button", className: "main" });
    yes.addEventListener("click", async () => {
      const kept = await changing("keep", { ...given, after: answer.after });
      box.replaceChildren(make("p", kept.fault || kept.kept));
      took(kept);
      look();
    });
    return [make("h3", "What moves"), list(answer.moves, "plainly"), found, yes];
  };
  const readings = async (files) => {
    const sent = [];
    for (const file of files) {
      if (file.size > 2000000) { at("sent-shown").replaceChildren(make("p", `${file.name} is over 2 MB: no wall page sends so much.`)); return; }
      sent.push({ name: file.name, text: await file.text() });
    }
    if (!sent.length) return;
    let answer;
    try { answer = await ask("sent", { sent }); } catch (error) { return; }
    const shown = [];
    if (answer.fault) shown.push(make("p", answer.fault, { className: "says", "data-level": "fault" }));
    else {
      if (answer.not_taken.length) shown.push(list(answer.not_taken, "plainly"));
      if (answer.taken.length) {
        const words = `Keep ${answer.taken.length === 1 ? "it" : `all ${answer.taken.length}`}`;
        shown.push(...offered(answer, at("sent-shown"), words, { how: "sent", sent }));
      } else shown.push(make("p", "Nothing new is to be kept."));
    }
    at("sent-shown").replaceChildren(...shown);
  };
  at("sent").addEventListener("change", () => readings(Array.from(at("sent").files)));
  addEventListener("dragover", (event) => event.preventDefault());
  addEventListener("drop", (event) => { event.preventDefault(); readings(Array.from(event.dataTransfer.files)); });

  /* ---- said by hand ---- */
  let held = [];
  const holesOf = () => {
    const piece = held.find((one) => one.piece === at("b-piece").value), chosen = at("b-hole").value;
    at("b-hole").replaceChildren(...(piece ? piece.holes : []).map((name) => make("option", name)));
    if (piece && piece.holes.includes(chosen)) at("b-hole").value = chosen;
  };
  const atTheWall = (pieces) => {
    held = pieces;
    const chosen = at("b-piece").value;
    at("b-piece").replaceChildren(...pieces.map((one) => make("option", one.piece)));
    if (pieces.some((one) => one.piece === chosen)) at("b-piece").value = chosen;
    holesOf();
  };
  at("b-piece").addEventListener("change", holesOf);
  const byHand = async (how, given, words) => {
    const box = at("found-shown");
    if (!state.saved) { box.replaceChildren(make("p", "Save the job first: what was read is held against what is saved.", { className: "says", "data-level": "wanted" })); return; }
    let answer;
    try { answer = await ask(how, given); } catch (error) { return; }
    if (answer.superseded) return;
    if (answer.fault) { box.replaceChildren(make("p", answer.fault, { className: "says", "data-level": "fault" })); return; }
    const open = answer.faults && answer.faults.length ? [make("p", "The job cannot be planned without it either:"), list(answer.faults, "plainly")] : [];
    box.replaceChildren(...open, ...offered(answer, box, words, { how, ...given }));
  };
  at("b-show").addEventListener("click", () => {
    const entry = Object.fromEntries(all("[data-reading]", at("by-hand")).map((one) => [one.dataset.reading, one.value.trim()]));
    byHand("found", { entry: { ...entry, cut: at("b-cut").checked ? "yes" : "", date: today() } }, "Keep it");
  });
  at("b-back").addEventListener("click", () => byHand("taken_back", { piece: at("b-piece").value, hole: at("b-hole").value }, "Take it back"));

  /* ---- what others do meanwhile ---- */
  const follow = async () => {
    if (waiting || timers.size || textTimer || document.hidden) return;
    const before = seen.version;
    let answer;
    try { answer = await ask("state"); } catch (error) { banner("gone", "cutmarks page has ended, or is not answering: what is typed now is not kept. Start it again."); return; }
    banner("gone", "");
    if (waiting || timers.size || textTimer || seen.version !== before) return;
    const changed = took(answer);
    if (changed || seen.formLost) { if (at("panel-text").hidden) await put(); else await text(); }
    if (changed) look();
  };
  setInterval(follow, 3000);
  addEventListener("focus", follow);

  (async () => { took(await changing("state", {})); await put(); look(); })();
})();
