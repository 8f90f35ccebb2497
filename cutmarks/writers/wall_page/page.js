"use strict";
// The wall page at work: one piece is shown, what was read is put into boxes, and figures are added and compared.
// Lengths are whole numbers, in millionths of a millimetre; "twice" where two readings are added and not halved.
// No word that is shown stands here: sentences stand in the page, hidden, with slots for figures.
(function () {
  var plan = JSON.parse(document.getElementById("plan").textContent);
  var body = document.body;
  var STEP = plan.step, SIDES = ["left", "right", "bottom", "top"];
  // The pieces that a hole lies in, by its name.
  var sharing = Object.create(null);
  // What is as it mostly is does not stand in the page.
  plan.pieces.forEach(function (piece) {
    piece.c.forEach(function (cut) {
      cut.g = cut.g || cut.t;
      cut.r = cut.r || [0, 0];
      cut.m = cut.m || [0, 0];
      cut.i = cut.i || [];
      sharing[cut.h] = (sharing[cut.h] || []).concat([piece]);
      cut.t.concat(cut.g, cut.i).forEach(function (row) { row.z = piece.z[row.a]; });
    });
    piece.o.forEach(function (opening) { opening.z = piece.z[opening.a]; });
  });
  var prefix = "cutmarks " + plan.stem + " ";
  var STACK = prefix + "undo", BY = "cutmarks by", PHONE = "cutmarks phone", MOST_UNDONE = 200, SIXTEENTHS = 16;
  // So near to a bound, in millionths, it may be on either side.
  var NEAR = 8;

  // ---- figures ---------------------------------------------------------------------------------------------------

  function common(a, b) { return b ? common(b, a % b) : a; }

  // A count of steps in words, as on paper: 74 and a half, 9 17/32.
  function words(steps) {
    var parts = plan.parts, size = Math.abs(steps), whole = Math.floor(size / parts), part = size % parts;
    var sign = steps < 0 ? "-" : "";
    if (!part) return sign + whole;
    if (plan.unit === "mm") return sign + (whole || "") + "\u00bd";
    var by = common(part, parts);
    return sign + (whole ? whole + " " : "") + part / by + "/" + parts / by;
  }

  // The nearest step, halves up; of a length twice over.
  function nearest(twice) { return Math.floor((twice + STEP) / (2 * STEP)); }
  function down(length) { return Math.floor(length / STEP); }
  function up(length) { return Math.ceil(length / STEP); }

  // A measure and what is left to the other side, as printed: together they are the tile as printed.
  function pair(row, twice) {
    var rest = 2 * row.z - twice, own = row.n === 0 || (row.n > 1 && (twice < rest || (twice === rest && row.n === 3)));
    var size = nearest(2 * row.z);
    return own ? [nearest(twice), size - nearest(twice)] : [size - nearest(rest), nearest(rest)];
  }

  function decimal(length) {
    var whole = Math.floor(length / 1e6), part = String(1e6 + length % 1e6).slice(1).replace(/0+$/, "");
    return whole + (part ? "." + part : "");
  }

  // ---- what is kept ----------------------------------------------------------------------------------------------
  // A piece's state: r what was read (by box, in millionths), a what was read as expected, t its ticks, at and by when and by whom it was read,
  // n its name, e what goes back of it. It is kept under the piece's own digits: a piece that changed has others.

  var store = null, kept = {}, undone = [];
  try {
    store = window.localStorage;
    store.setItem(prefix + "try", "1");
    store.removeItem(prefix + "try");
  } catch (refused) { store = null; }

  function parsed(text, otherwise) {
    try { return JSON.parse(text) || otherwise; } catch (broken) { return otherwise; }
  }

  function load() {
    kept = {};
    if (store) {
      for (var i = 0; i < store.length; i += 1) {
        var key = store.key(i);
        if (key.indexOf(prefix) === 0 && key !== STACK) {
          var state = parsed(store.getItem(key), null);
          if (state && state.n) kept[key.slice(prefix.length)] = state;
        }
      }
      undone = parsed(store.getItem(STACK), []);
    } else if (location.hash.indexOf("#s=") === 0) {
      var text = "";
      try { text = decodeURIComponent(location.hash.slice(3)); } catch (broken) { text = ""; }
      var all = parsed(text, {});
      own = all.own || own;
      kept = all.kept || {};
      undone = all.undone || [];
    }
  }

  function save(digits) {
    if (store) {
      try {
        if (kept[digits]) store.setItem(prefix + digits, JSON.stringify(kept[digits]));
        else store.removeItem(prefix + digits);
        store.setItem(STACK, JSON.stringify(undone));
        return;
      } catch (full) { store = null; }
    }
    show("m-not-kept", true);
    var held = "#s=" + encodeURIComponent(JSON.stringify({ own: own, kept: kept, undone: undone.slice(-20) }));
    try { history.replaceState(null, "", held); } catch (refused) { location.replace(held); }
  }

  function stateOf(piece) { return Object.assign({ n: piece.n, r: {}, a: {}, t: {} }, kept[piece.f]); }

  // Another state for a piece; what it was can be taken back.
  function put(digits, state) {
    undone.push([digits, kept[digits] || null]);
    if (undone.length > MOST_UNDONE) undone.shift();
    if (state) kept[digits] = state; else delete kept[digits];
    save(digits);
  }

  function now() {
    var at = new Date(), two = function (n) { return String(100 + n).slice(1); };
    return at.getFullYear() + "-" + two(at.getMonth() + 1) + "-" + two(at.getDate()) + " " +
      two(at.getHours()) + ":" + two(at.getMinutes()) + ":" + two(at.getSeconds());
  }

  // Who reads: the initials, and until there are any a name for this phone, so that two phones are never taken for one.
  var own = "phone " + Array.from(window.crypto.getRandomValues(new Uint8Array(4)))
    .map(function (one) { return (256 + one).toString(16).slice(1); }).join("");
  function initials() { return document.getElementById("initials").value.trim() || own; }

  function changed(piece, change) {
    var state = JSON.parse(JSON.stringify(stateOf(piece)));
    change(state);
    state.by = initials();
    state.at = now();
    state.e = entries(piece, state);
    put(piece.f, state);
  }

  // ---- what it comes to ------------------------------------------------------------------------------------------

  function expected(name) {
    var at = name.split("."), piece = plan.pieces[shown];
    return at[0] === "c" ? piece.c[at[1]].k[at[2]].e[at[3]] : piece.o[at[1]].e[at[2]];
  }

  // What stands in a box: what was read, else what is expected, to the step.
  function inBox(state, name) {
    return state.r[name] === undefined ? nearest(2 * expected(name)) * STEP : state.r[name];
  }

  // What is read in one go, each with its boxes: both sides of a thing from one edge, all ends of an opening.
  function readings(piece) {
    var all = [];
    function one(stem, of, numbers) {
      all.push({ stem: stem, of: of, boxes: numbers.map(function (k) { return stem + "." + k; }) });
    }
    piece.c.forEach(function (cut, i) {
      if (!cut.d) cut.k.forEach(function (check, k) { one("c." + i + "." + k, "c." + i, Object.keys(check.e)); });
    });
    piece.o.forEach(function (opening, i) { one("o." + i, "o." + i, opening.b); });
    return all;
  }
  function stemOf(box) { return box.slice(0, box.lastIndexOf(".")); }

  // How many boxes of these readings were read, and how many there are.
  function count(all, state) {
    var sum = { read: 0, of: 0 };
    all.forEach(function (one) {
      sum.of += one.boxes.length;
      sum.read += one.boxes.filter(function (box) { return state.a[one.stem] || state.r[box] !== undefined; }).length;
    });
    return sum;
  }
  function readingsOf(piece, of) { return readings(piece).filter(function (one) { return one.of === of; }); }

  // What a check was found to be; null until both its sides are read: one of two moves nothing.
  function readOf(state, cut, check, wanted) {
    var stem = "c." + cut + "." + check;
    if (state.a[stem]) return wanted.e;
    var found = wanted.e.map(function (one, i) { return state.r[stem + "." + i]; });
    return found.indexOf(undefined) < 0 ? found : null;
  }

  function both(values) { return values.length > 1 ? values[0] + values[1] : 2 * values[0]; }

  // From the left and from below a coordinate grows.
  function growing(check) { return check.s === "left" || check.s === "bottom" ? 1 : -1; }

  // How a cut moves by what was read: how far its figures go on, what stops, which sides disagree.
  function moves(cut, index, state) {
    var off = cut.r.slice(), all = cut.r.slice(), apart = [], stops = false;
    cut.k.forEach(function (check, number) {
      var found = cut.d ? null : readOf(state, index, number, check);
      if (!found) return;
      var sign = growing(check);
      off[check.a] = cut.m[check.a] + sign * (both(found) - both(check.e));
      // What it was before it moved is in whole numbers what it was planned to be, to the last.
      all[check.a] = check.b === null ? NaN : sign * (both(found) - (check.b || both(check.e)));
      if (found.length > 1) {
        var by = Math.abs(found[1] - found[0] - (check.e[1] - check.e[0]));
        if (by > cut.w) {
          var stop = cut.v !== null && by > cut.v;
          apart.push({ stop: stop, found: found[1] - found[0], wide: check.e[1] - check.e[0] });
          stops = stops || stop;
        }
      }
    });
    var moved = Math.max(Math.abs(off[0]), Math.abs(off[1])) >= plan.act;
    var on = moved ? [off[0] - cut.m[0], off[1] - cut.m[1]] : [-cut.m[0], -cut.m[1]];
    var away = Math.sqrt(off[0] * off[0] + off[1] * off[1]);
    var far = moved && cut.l !== null && away > cut.l;
    var otherwise = !!(on[0] || on[1]) && !far && !(cut.q && fits(on, cut.q));
    var digits = moved ? all : [0, 0];
    // A thing that comes over the base, or off it, is read from something else then: that print is another.
    cut.k.forEach(function (check) {
      var away = growing(check) * on[check.a], y = check.y;
      if (away && y && ((y[0] !== null && away <= y[0] + NEAR) || (y[1] !== null && away >= y[1] - NEAR))) digits = [NaN, 0];
    });
    return { on: on, far: far ? away : 0, apart: apart, otherwise: otherwise, stops: stops || far, digits: digits };
  }

  // The digits of the print that is right once the holes have moved so; "" where that cannot be told here.
  function digitsOf(piece, results) {
    var planned = piece.b === undefined ? piece.f : piece.b, moved = false, known = planned !== "";
    var said = results.map(function (one) {
      if (one.digits[0] || one.digits[1]) moved = true;
      if (isNaN(one.digits[0] + one.digits[1])) known = false;
      return one.digits.join(",");
    });
    if (!known) return "";
    return moved ? checksum(planned + " " + said.join(" ")) : planned;
  }

  // CRC-32, as of a ZIP file, in eight hex digits.
  function checksum(text) {
    var sum = -1;
    for (var i = 0; i < text.length; i += 1) {
      sum ^= text.charCodeAt(i);
      for (var bit = 0; bit < 8; bit += 1) sum = sum >>> 1 ^ (sum & 1 ? 0xedb88320 : 0);
    }
    return (4294967296 + (~sum >>> 0)).toString(16).slice(1);
  }

  function fits(on, room) {
    var ways = [-on[0], on[0], -on[1], on[1]];
    return ways.every(function (way, side) { return way <= 0 || way < room[side]; });
  }

  // ---- what is shown ---------------------------------------------------------------------------------------------

  var shown = 0, view = "";

  function show(id, whether) { document.getElementById(id).hidden = !whether; }
  function each(within, what, does) { Array.prototype.forEach.call(within.querySelectorAll(what), does); }
  function slot(element, name, text) {
    each(element, '[data-slot="' + name + '"]', function (one) { one.textContent = text; });
  }
  function isDone(piece) { return !!stateOf(piece).t.fixed; }
  function nextOne() {
    for (var i = 0; i < plan.pieces.length; i += 1) if (!isDone(plan.pieces[i])) return i;
    return -1;
  }

  function go(to) {
    view = to;
    if (/^p-/.test(to)) shown = Number(to.slice(2));
    each(document, ".view", function (one) {
      var wanted = one.id === to || (one.classList.contains("with-piece") && (/^p-/.test(to) || to === "v-list"));
      one.classList.toggle("shown", wanted);
    });
    each(document, ".foot .with-piece", function (one) { one.hidden = !/^p-/.test(to); });
    if (to === "v-send") refresh();
    draw();
    window.scrollTo(0, 0);
  }

  // Where else a hole was found moved, by the names of the pieces, on an axis that is not read here (or not yet): it is
  // the same hole in each piece that it lies in.
  function movedThere(piece, index) {
    var own = piece.c[index], shared = sharing[own.h];
    if (own.d || shared.length < 2) return [];
    var sum = count(readingsOf(piece, "c." + index), stateOf(piece)), whole = sum.read === sum.of;
    var open = [0, 1].filter(function (axis) {
      return !whole || !own.k.some(function (check) { return check.a === axis; });
    });
    return shared.filter(function (other) {
      return other !== piece && kept[other.f] && other.c.some(function (cut, i) {
        if (cut.h !== own.h) return false;
        var on = moves(cut, i, stateOf(other)).on;
        return open.some(function (axis) { return on[axis]; });
      });
    }).map(function (other) { return other.n; });
  }

  // In which other pieces the rest of a hole that moved here has yet to follow.
  function toFollow(piece, index) {
    var hole = piece.c[index].h;
    return sharing[hole].filter(function (other) {
      return other !== piece && other.c.some(function (cut, i) {
        return cut.h === hole && movedThere(other, i).indexOf(piece.n) >= 0;
      });
    }).map(function (other) { return other.n; });
  }

  function draw() {
    var at = nextOne();
    show("m-all-fixed", at < 0 && plan.pieces.length > 0);
    each(document, ".next", function (one) { one.hidden = one.parentNode.id !== "p-" + at; });
    each(document, "[data-do=undo]", function (one) { one.disabled = !undone.length; });
    each(document, "[data-listed]", function (link) {
      var state = stateOf(plan.pieces[link.getAttribute("data-listed")]);
      link.classList.toggle("here", view === "p-" + link.getAttribute("data-listed"));
      each(link, ".ticked", function (old) { link.removeChild(old); });
      each(document, ".foot [data-tick]", function (button) {
        if (!state.t[button.getAttribute("data-tick")]) return;
        var said = document.createElement("span");
        said.className = "ticked";
        said.textContent = button.textContent;
        link.appendChild(said);
      });
      var piece = plan.pieces[link.getAttribute("data-listed")], sum = count(readings(piece), state);
      if (piece.c.some(function (cut, i) { return movedThere(piece, i).length; })) {
        link.appendChild(document.getElementById("t-moved-at").content.cloneNode(true));
      }
      if (sum.of && sum.read === sum.of) link.appendChild(document.getElementById("t-read").content.cloneNode(true));
    });
    drawHeld();
    if (plan.pieces.length && /^p-/.test(view)) drawPiece(plan.pieces[shown], document.getElementById("p-" + shown));
  }

  // The boxes of a piece get their minus, plus and keypad when it is first shown.
  function ready(piece, section) {
    if (section.hasAttribute("data-ready")) return;
    section.setAttribute("data-ready", "");
    each(section, ".box[data-box]", function (box) {
      var steps = document.getElementById("t-steps").content.cloneNode(true), name = box.getAttribute("data-box");
      each(steps, "button", function (button) { button.setAttribute("data-box", name); });
      var at = name.split("."), from = box.closest(".pair").previousElementSibling.textContent;
      var several = at[0] === "c" && piece.c.length > 1 ? piece.c[at[1]].h + ", " : "";
      box.setAttribute("role", "group");
      box.setAttribute("aria-label", several + from + ", " + box.querySelector(".what").textContent);
      each(steps, ".state", function (one) { box.querySelector(".what").appendChild(one); });
      box.replaceChild(steps, box.querySelector("span.figure"));
    });
    // Beside what each is read from: a button that says that it was read, and is as expected.
    each(section, ".pair", function (pair) {
      var box = pair.querySelector(".box[data-box]"), from = pair.previousElementSibling;
      if (!box) return;
      var button = document.getElementById("t-as").content.firstElementChild.cloneNode(true);
      button.setAttribute("data-stem", stemOf(box.getAttribute("data-box")));
      button.setAttribute("aria-label", button.textContent + ", " + from.textContent);
      from.appendChild(button);
      from.classList.add("asks");
    });
  }

  // A sentence of the page's own, with its names and figures, behind what was read.
  function tell(where, name, slots) {
    var said = document.getElementById("t-" + name).content.cloneNode(true);
    Object.keys(slots).forEach(function (key) { slot(said, key, slots[key]); });
    where.appendChild(said);
  }

  function drawPiece(piece, section) {
    ready(piece, section);
    var state = stateOf(piece), results = piece.c.map(function (cut, i) { return moves(cut, i, state); });
    var planned = !!section.querySelector(".mark > [data-told=held]");
    var adds = !results.some(function (one) { return one.otherwise; });
    var stop = planned || results.some(function (one) { return one.stops; });
    var moved = results.some(function (one) { return one.on[0] || one.on[1]; });
    each(section, "button.figure", function (box) {
      var name = box.getAttribute("data-box");
      var when = state.a[stemOf(name)] ? "as" : state.r[name] !== undefined ? "found" : "expected";
      box.textContent = words(nearest(2 * inBox(state, name)));
      box.closest(".box").classList.toggle("found", when !== "expected");
      each(box.closest(".box"), "[data-when]", function (one) { one.hidden = one.getAttribute("data-when") !== when; });
    });
    each(section, "[data-do=as]", function (one) {
      one.setAttribute("aria-pressed", String(!!state.a[one.getAttribute("data-stem")]));
    });
    var sum = count(readings(piece).filter(function (one) { return one.of[0] === "c"; }), state);
    piece.c.forEach(function (cut, i) { drawCut(section, piece, i, results[i], stop); });
    var there = piece.c.map(function (cut, i) { return movedThere(piece, i); });
    each(section, ".print", function (one) {
      one.hidden = moved || there.some(function (names) { return names.length; });
    });
    if (piece.c.length) {
      var last = section.querySelector('[data-answers="' + (piece.c.length - 1) + '"]');
      if (stop && !planned) tell(last, "held", {});
      var right = adds ? digitsOf(piece, results) : "";
      var marked = results.some(function (one) { return (one.on[0] || one.on[1]) && !one.otherwise; });
      var told = sum.read < sum.of ? "moving" : right ? "moved" : "moved-on";
      if (marked && !stop) tell(last, told, { sheet: piece.f, right: right });
    }
    piece.c.forEach(function (cut, i) {
      var answers = section.querySelector('[data-answers="' + i + '"]'), others = stop ? [] : toFollow(piece, i);
      if (there[i].length) tell(answers, "moved-there", { hole: cut.h, others: there[i].join(", ") });
      if (others.length) tell(answers, "moves-too", { hole: cut.h, others: others.join(", ") });
    });
    each(section, ".planned-size", function (one) { one.hidden = false; });
    var fits = piece.o.map(function (opening, i) { return drawOpening(section, piece, i, state); });
    // What stops is neither cut nor fixed; what is ticked already can be taken back.
    var whole = count(readings(piece), state);
    var stops = stop || !adds || section.hasAttribute("data-stops") || fits.indexOf(false) >= 0;
    each(document, ".foot [data-tick]", function (button) {
      var ticked = !!state.t[button.getAttribute("data-tick")];
      button.setAttribute("aria-pressed", String(ticked));
      button.disabled = stops && !ticked;
      button.classList.toggle("early", whole.read < whole.of);
    });
  }

  function drawCut(section, piece, i, result, stop) {
    var cut = piece.c[i], on = result.on, answers = section.querySelector('[data-answers="' + i + '"]');
    function at(row, value) { return 2 * value + row.s * on[row.a]; }
    each(section, '[data-marked="' + i + '"]', function (one) { one.hidden = stop || result.otherwise; });
    drawCount(section, '[data-marked="' + i + '"]', count(readingsOf(piece, "c." + i), stateOf(piece)));
    cut.t.forEach(function (row, number) {
      each(section, '[data-row="' + i + "." + number + '"]', function (one) {
        // A line may end at "to", never within 8 15/16.
        one.textContent = row.v.map(function (value) { return words(pair(row, at(row, value))[0]).replace(/ /g, "\u00a0"); }).join(" to ");
      });
    });
    cut.g.forEach(function (row, number) {
      each(section, '[data-check="' + i + "." + number + '"]', function (one) {
        one.textContent = words(pair(row, at(row, row.v[row.v.length - 1]))[1]);
      });
    });
    cut.i.forEach(function (row, number) {
      each(section, '[data-middle="' + i + "." + number + '"]', function (one) {
        one.textContent = words(pair(row, at(row, row.v[0]))[0]);
      });
    });
    each(section, '.planned[data-cut="' + i + '"]', function (one) { one.hidden = !!(on[0] || on[1]); });
    answers.textContent = "";
    if (result.far) {
      var off = words(nearest(Math.round(result.far))), limit = words(nearest(cut.l - 2));
      tell(answers, "far", { hole: cut.h, piece: piece.n, off: off, limit: limit });
    }
    result.apart.forEach(function (said) {
      tell(answers, said.stop ? "apart-stop" : "apart-warn",
        { hole: cut.h, piece: piece.n, found: words(nearest(2 * said.found)), wide: words(nearest(2 * said.wide)) });
    });
    if (result.otherwise && !stop) tell(answers, "otherwise", { sheet: piece.f });
  }

  // How many figures were read of those that it takes: until then what is to be marked is not final, and looks so.
  function drawCount(section, where, sum) {
    var marked = section.querySelector(where), head = marked.querySelector("h3") || marked.previousElementSibling;
    marked.classList.toggle("not-yet", sum.read < sum.of);
    if (!sum.of || !/^H/.test(head.tagName)) return;
    var told = head.querySelector(".count");
    if (!told) {
      told = document.getElementById("t-count").content.firstElementChild.cloneNode(true);
      head.appendChild(told);
    }
    told.hidden = marked.hidden;
    told.classList.toggle("less", sum.read < sum.of);
    slot(told, "read", String(sum.read));
    slot(told, "of", String(sum.of));
    each(told, "b.less", function (one) { one.hidden = sum.read === sum.of; });
  }

  // What was read at an end of an opening, once all its ends were; of ends that are shown as one, what was read for
  // them; else undefined.
  function readEnd(opening, i, k, state) {
    if (state.a["o." + i]) return opening.e[k];
    if (opening.b.some(function (one) { return state.r["o." + i + "." + one] === undefined; })) return undefined;
    return state.r["o." + i + "." + (opening.b.length === 1 ? opening.b[0] : k)];
  }

  function drawOpening(section, piece, i, state) {
    var opening = piece.o[i], answers = section.querySelector('[data-answers="o.' + i + '"]'), told = "", read = false;
    answers.textContent = "";
    opening.e.forEach(function (wanted, k) {
      var found = readEnd(opening, i, k, state);
      if (found === undefined) found = wanted; else read = true;
      var size = found - opening.d[k], slots = { opening: words(nearest(2 * found)), piece: piece.n };
      each(section, '[data-size="' + i + "." + k + '"]', function (one) {
        one.textContent = words(opening.p ? up(size) : down(size));
      });
      if (told || (size > 0 && size <= opening.z + 1)) return;
      told = size <= 0 ? "nothing-left" : "too-wide";
      slots.off = words(nearest(2 * opening.d[k]));
      slots.size = words(nearest(2 * size));
      slots.whole = words(nearest(2 * opening.z));
      tell(answers, told, slots);
    });
    each(section, '[data-cutting="' + i + '"]', function (one) { one.hidden = told !== ""; });
    drawCount(section, '[data-cutting="' + i + '"]', count(readingsOf(piece, "o." + i), state));
    if (read) each(section, ".planned-size", function (one) { one.hidden = true; });
    return told === "";
  }

  // ---- from an earlier page --------------------------------------------------------------------------------------

  function held() {
    var here = {};
    plan.pieces.forEach(function (piece) { here[piece.f] = true; });
    return Object.keys(kept).filter(function (digits) { return !here[digits] && !kept[digits].away; });
  }

  function said(entry) {
    return Object.keys(entry).filter(function (key) { return key !== "piece" && key !== "by"; })
      .map(function (key) { return key + " " + entry[key]; }).join(", ");
  }

  function drawHeld() {
    var list = document.getElementById("held-list"), all = held();
    list.textContent = "";
    show("m-held", all.length > 0);
    all.forEach(function (digits) {
      var item = document.getElementById("t-held-piece").content.cloneNode(true);
      slot(item, "piece", kept[digits].n);
      slot(item, "said", " " + (kept[digits].e || []).map(said).join("; "));
      item.querySelector("button").setAttribute("data-digits", digits);
      list.appendChild(item);
    });
  }

  // ---- sent back, and joined -------------------------------------------------------------------------------------

  function length(steps) { return words(steps) + " " + plan.unit; }

  // A figure that was read, in steps; what was as expected, to the last.
  function figure(mm, exact) { return exact ? decimal(mm) + " mm" : length(nearest(2 * mm)); }

  function reading(found, exact) {
    var figures = found.map(function (one) { return figure(one, exact); });
    return figures.length > 1 ? figures.join(" to ") : "centre " + figures[0];
  }

  // What goes back of a piece: an entry for each of its holes, each of its openings; else one for its ticks.
  function entries(piece, state) {
    var all = [], by = state.by + " " + state.at;
    function entry() {
      var one = { piece: piece.n, sheet: piece.f };
      all.push(one);
      return one;
    }
    piece.c.forEach(function (cut, i) {
      if (cut.d) return;
      var axes = {};
      cut.k.forEach(function (check, number) {
        var found = readOf(state, i, number, check);
        if (found && Math.min.apply(null, found) >= 0) axes[check.s] = reading(found, state.a["c." + i + "." + number]);
      });
      if (!Object.keys(axes).length && !state.t.cut) return;
      var one = entry();
      one.hole = cut.h;
      SIDES.forEach(function (side) { if (axes[side]) one[side] = axes[side]; });
    });
    // The openings on one axis go together, every end of each in its turn.
    var openings = {};
    [0, 1].forEach(function (axis) {
      var whole = true, figures = [];
      piece.o.forEach(function (opening, i) {
        if (opening.a !== axis) return;
        opening.e.forEach(function (wanted, k) {
          var found = readEnd(opening, i, k, state);
          if (found === undefined) whole = false; else figures.push(figure(found, state.a["o." + i]));
        });
      });
      if (whole && figures.length) openings[axis ? "opening up" : "opening across"] = figures.join(" and ");
    });
    if (Object.keys(openings).length) {
      var one = entry();
      Object.keys(openings).forEach(function (key) { one[key] = openings[key]; });
    }
    if (!all.length && (state.t.fixed || (state.t.cut && !piece.c.length))) entry();
    all.forEach(function (one) {
      if (state.t.cut && (one.hole || !piece.c.length || piece.o.length)) one.cut = "yes";
      if (state.t.fixed) one.fixed = "yes";
      one.by = by;
    });
    return all;
  }

  function sentText() {
    var lines = ["# cutmarks found JOB --from FILE", "job: " + JSON.stringify(plan.job), "digits: " + plan.digits];
    var all = [];
    plan.pieces.forEach(function (piece) { if (kept[piece.f]) all = all.concat(kept[piece.f].e || []); });
    held().forEach(function (digits) { all = all.concat(kept[digits].e || []); });
    lines.push(all.length ? "found:" : "found: []");
    all.forEach(function (one) {
      var said = Object.assign({}, one);
      if (said.by && said.by.indexOf(own + " ") === 0) said.by = initials() + said.by.slice(own.length);
      lines.push("- " + ascii(JSON.stringify(said)));
    });
    return lines.join("\n") + "\n";
  }

  // Letters that a message may alter are written as their numbers.
  function ascii(text) {
    return text.replace(/[\u007f-\uffff]/g, function (sign) {
      return sign === "\u00bd" ? sign : "\\u" + (65536 + sign.charCodeAt(0)).toString(16).slice(1);
    });
  }

  function refresh() {
    document.getElementById("sent").value = sentText();
    show("m-copied", false);
    show("m-not-copied", false);
    var half = plan.pieces.filter(function (piece) {
      return readings(piece).some(function (one) {
        var sum = count([one], stateOf(piece));
        return sum.read > 0 && sum.read < sum.of;
      });
    });
    show("m-half", half.length > 0);
    slot(document.getElementById("m-half"), "half", half.map(function (piece) { return piece.n; }).join(", "));
  }

  function copy() {
    var text = document.getElementById("sent"), done = false;
    text.focus();
    text.select();
    try { done = document.execCommand("copy"); } catch (refused) { done = false; }
    show("m-copied", done);
    show("m-not-copied", !done);
  }

  function saveFile() {
    var link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([sentText()], { type: "text/plain" }));
    link.download = plan.stem + "_" + plan.digits + "_" + initials().replace(/[^A-Za-z0-9]/g, "") + ".txt";
    link.click();
    setTimeout(function () { URL.revokeObjectURL(link.href); }, 1000);
  }

  function share() {
    if (navigator.share) navigator.share({ title: document.title, text: sentText() }).catch(function () { copy(); });
  }

  var asked = [];

  function joinText(text) {
    var lines = text.split(/\r?\n/), job = null, by = {}, order = [];
    lines.forEach(function (line) {
      var head = /^\s*job: (".*")\s*$/.exec(line), item = /^\s*- (\{.*\})\s*$/.exec(line);
      if (head) job = parsed(head[1], null);
      var one = item ? parsed(item[1], null) : null;
      if (!one || typeof one.piece !== "string" || !/^[0-9a-f]{8}$/.test(one.sheet)) return;
      if (!by[one.sheet]) { by[one.sheet] = []; order.push(one.sheet); }
      by[one.sheet].push(one);
    });
    if (job !== plan.job || !order.length) return null;
    var joined = [];
    order.forEach(function (digits) {
      var piece = plan.pieces.filter(function (one) { return one.f === digits; })[0];
      var theirs = piece ? stateFrom(piece, by[digits]) : { n: by[digits][0].piece, r: {}, a: {}, t: {}, e: by[digits] };
      if (!theirs) return;
      var mine = kept[digits];
      if (!mine) { put(digits, theirs); joined.push(theirs.n); return; }
      var same = read(mine) === read(theirs), blank = !read(mine) && !Object.keys(mine.r).length;
      if (!same && (!piece || (read(theirs) && !blank))) { asked.push({ digits: digits, theirs: theirs }); return; }
      if (!piece) return;
      // Where one only ticked it the other's readings are taken, and the ticks of both.
      var from = read(theirs) && blank ? theirs : mine, ticks = Object.assign({}, theirs.t, mine.t);
      if (from === mine && JSON.stringify(ticks) === JSON.stringify(mine.t)) return;
      changed(piece, function (state) {
        state.t = ticks;
        state.r = from.r;
        state.a = from.a || {};
      });
      joined.push(mine.n);
    });
    return joined;
  }

  // All that was read of a piece, in one text: two that read the same have the same, however it is written.
  function read(state) {
    return (state.e || []).map(function (one) {
      return SIDES.concat(["opening across", "opening up"]).map(function (key) {
        if (one[key] === undefined) return "";
        return (one.hole || "") + key + one[key].replace(/^centre /, "").split(/ to | and /).map(millionths).join();
      }).join("");
    }).sort().join("");
  }

  // A state of what another phone sent of a piece; null where it holds what this page cannot read.
  function stateFrom(piece, all) {
    var state = { n: piece.n, r: {}, a: {}, t: {} }, whole = true;
    all.forEach(function (one) {
      if (one.cut === "yes") state.t.cut = 1;
      if (one.fixed === "yes") state.t.fixed = 1;
      var stamp = /^(.*) (\d{4}-\d\d-\d\d \d\d:\d\d:\d\d)$/.exec(one.by || "");
      if (stamp) { state.by = stamp[1]; state.at = stamp[2]; }
      piece.c.forEach(function (cut, i) {
        if (cut.h !== one.hole) return;
        cut.k.forEach(function (check, number) {
          if (one[check.s] === undefined) return;
          fill(one[check.s].replace(/^centre /, "").split(" to "), check.e, "c." + i + "." + number);
        });
      });
      [0, 1].forEach(function (axis) {
        var text = one[axis ? "opening up" : "opening across"];
        if (text === undefined) return;
        var texts = text.split(" and ");
        piece.o.forEach(function (opening, i) {
          if (opening.a !== axis) return;
          var own = texts.splice(0, opening.e.length);
          fill(own.length === opening.e.length ? own : ["?"], opening.e, "o." + i, opening.b);
        });
        if (texts.length) whole = false;
      });
    });
    function fill(texts, wanted, stem, only) {
      var exact = texts.length === wanted.length && wanted.every(function (one, k) {
        return texts[k] === decimal(one) + " mm";
      });
      if (exact) { state.a[stem] = 1; return; }
      texts.forEach(function (text, k) {
        var value = millionths(text);
        if (value === null || wanted[k] === undefined) whole = false;
        else if (!only || only.indexOf(k) >= 0) state.r[stem + "." + k] = value;
      });
    }
    if (!whole) return null;
    state.e = all;
    return state;
  }

  // "74\u00bd mm", "9 17/32 in", "69.7 mm" in millionths; null where it is none of these.
  function millionths(text) {
    var part = /^(\d*)(\u00bd)? mm$/.exec(text);
    if (part && (part[1] || part[2])) return Number(part[1] || 0) * 1e6 + (part[2] ? 500000 : 0);
    part = /^(\d+)\.(\d{1,6}) mm$/.exec(text);
    if (part) return Number(part[1]) * 1e6 + Number((part[2] + "00000").slice(0, 6));
    part = /^(?:(\d+) )?(\d+)\/(\d+) in$/.exec(text) || /^(\d+)( in)$/.exec(text);
    if (!part || plan.unit !== "in") return null;
    var steps = Number(part[1] || 0) * plan.parts + (part[3] ? Number(part[2]) * plan.parts / Number(part[3]) : 0);
    return steps * STEP;
  }

  function join() {
    var box = document.getElementById("joined"), file = document.getElementById("joined-file").files[0];
    function take(text) {
      var names = joinText(text);
      show("m-not-joined", !names);
      show("m-joined", !!names);
      if (names) slot(document.getElementById("m-joined"), "joined", names.join(", ") || "0");
      box.value = "";
      drawAsked();
      refresh();
      draw();
    }
    if (box.value.trim() || !file) { take(box.value); return; }
    var reader = new FileReader();
    reader.onload = function () { take(String(reader.result)); };
    reader.readAsText(file);
    document.getElementById("joined-file").value = "";
  }

  function drawAsked() {
    var list = document.getElementById("asked-list");
    list.textContent = "";
    asked.forEach(function (one, number) {
      var item = document.getElementById("t-asked").content.cloneNode(true), mine = kept[one.digits];
      slot(item, "piece", one.theirs.n);
      slot(item, "mine", mine ? (mine.e || []).map(function (e) { return e.by + ", " + said(e); }).join("; ") : "");
      slot(item, "theirs", (one.theirs.e || []).map(function (e) { return e.by + ", " + said(e); }).join("; "));
      each(item, "button", function (button) { button.setAttribute("data-asked", String(number)); });
      list.appendChild(item);
    });
  }

  function answer(number, theirs) {
    var one = asked.splice(number, 1)[0];
    if (one && theirs) put(one.digits, one.theirs);
    drawAsked();
    refresh();
    draw();
  }

  // ---- the keypad ------------------------------------------------------------------------------------------------

  var typing = null;

  function openPad(name, button) {
    typing = { name: name, digits: "", steps: 0, back: button };
    document.getElementById("typed-for").textContent = button.closest("[role=group]").getAttribute("aria-label");
    each(document, "#keypad [data-under]", function (one) {
      one.hidden = plan.parts % Number(one.getAttribute("data-under")) !== 0;
    });
    show("keypad", true);
    drawTyped();
    document.getElementById("keypad").querySelector("button").focus();
  }

  function typedSteps() { return Number(typing.digits || 0) * plan.parts + typing.steps; }
  function drawTyped() {
    document.getElementById("typed").textContent = typing.digits || typing.steps ? words(typedSteps()) : "";
  }
  function closePad() {
    show("keypad", false);
    typing.back.focus();
    typing = null;
  }

  // ---- what a tap does -------------------------------------------------------------------------------------------

  function putIn(name, value) {
    var piece = plan.pieces[shown], stem = stemOf(name);
    var one = readings(piece).filter(function (one) { return one.stem === stem; })[0];
    changed(piece, function (state) {
      // What was said to be as expected, and is not: its other figure was.
      if (state.a[stem]) one.boxes.forEach(function (box) { state.r[box] = inBox(state, box); });
      delete state.a[stem];
      state.r[name] = Math.max(0, value);
    });
    draw();
  }

  var does = {
    step: function (button) {
      var name = button.getAttribute("data-box");
      putIn(name, inBox(stateOf(plan.pieces[shown]), name) + Number(button.getAttribute("data-by")) * STEP);
    },
    as: function (button) {
      var piece = plan.pieces[shown], stem = button.getAttribute("data-stem");
      changed(piece, function (state) {
        if (state.a[stem]) { delete state.a[stem]; return; }
        readings(piece).forEach(function (one) {
          if (one.stem === stem) one.boxes.forEach(function (box) { delete state.r[box]; });
        });
        state.a[stem] = 1;
      });
      draw();
    },
    type: function (button) { openPad(button.getAttribute("data-box"), button); },
    digit: function (button) {
      if (typing.digits.length < 5) typing.digits += button.getAttribute("data-digit");
      drawTyped();
    },
    part: function (button) {
      var steps = plan.parts * Number(button.getAttribute("data-over")) / Number(button.getAttribute("data-under"));
      typing.steps = typing.steps === steps ? 0 : steps;
      drawTyped();
    },
    odd: function () {
      var one = plan.parts / (2 * SIXTEENTHS), has = Math.floor(typing.steps / one) % 2;
      typing.steps += has ? -one : one;
      drawTyped();
    },
    wipe: function () { typing.digits = ""; typing.steps = 0; drawTyped(); },
    leave: function () { closePad(); },
    enter: function () {
      if (typing.digits || typing.steps) putIn(typing.name, typedSteps() * STEP);
      closePad();
    },
    tick: function (button) {
      var key = button.getAttribute("data-tick");
      changed(plan.pieces[shown], function (state) {
        if (state.t[key]) delete state.t[key]; else state.t[key] = 1;
      });
      draw();
    },
    undo: function () {
      var last = undone.pop();
      if (!last) return;
      if (last[1]) kept[last[0]] = last[1]; else delete kept[last[0]];
      save(last[0]);
      var at = plan.pieces.map(function (piece) { return piece.f; }).indexOf(last[0]);
      if (at >= 0 && /^p-/.test(view)) go("p-" + at); else { if (view === "v-send") refresh(); draw(); }
    },
    onward: function () {
      if (!plan.pieces.length) { go("v-list"); return; }
      var first = nextOne();
      if (!/^p-/.test(view)) { go("p-" + (first < 0 ? shown : first)); return; }
      if (isDone(plan.pieces[shown]) && first >= 0) { go("p-" + first); return; }
      go("p-" + (shown + 1) % plan.pieces.length);
    },
    list: function () { go("v-list"); },
    larger: function (button) { enlarge(button, 1.5); },
    smaller: function (button) { enlarge(button, 1 / 1.5); },
    refresh: refresh, copy: copy, save: saveFile, share: share, join: join,
    mine: function (button) { answer(Number(button.getAttribute("data-asked")), false); },
    theirs: function (button) { answer(Number(button.getAttribute("data-asked")), true); },
    away: function (button) {
      var digits = button.getAttribute("data-digits");
      put(digits, Object.assign({}, kept[digits], { away: 1 }));
      draw();
    }
  };

  function enlarge(button, by) {
    var drawn = button.closest("section").querySelector(".elevation");
    var size = Math.min(8, Math.max(1, Number(drawn.getAttribute("data-size") || 1) * by));
    drawn.setAttribute("data-size", String(size));
    drawn.style.width = Math.round(size * 100) + "%";
  }

  function signed() {
    if (!store) return;
    try {
      store.setItem(BY, document.getElementById("initials").value.trim());
      store.setItem(PHONE, own);
    } catch (full) { store = null; }
  }

  var awake = null;
  function stayAwake() {
    if (!navigator.wakeLock || (awake && !awake.released)) return;
    navigator.wakeLock.request("screen").then(function (lock) { awake = lock; }, function () { awake = null; });
  }

  document.addEventListener("click", function (event) {
    stayAwake();
    var link = event.target.closest ? event.target.closest("a[href^='#']") : null;
    var button = event.target.closest ? event.target.closest("[data-do]") : null;
    if (link) { event.preventDefault(); go(link.getAttribute("href").slice(1)); return; }
    if (!button || button.disabled) return;
    if (typing && !button.closest("#keypad")) return;
    if (button.closest("#v-send")) signed();
    does[button.getAttribute("data-do")](button);
  });

  body.classList.add("scripts");
  load();
  show("m-not-kept", !store);
  if (store) {
    document.getElementById("initials").value = store.getItem(BY) || "";
    own = store.getItem(PHONE) || own;
    signed();
  }
  if (!navigator.share) each(document, "[data-do=share]", function (one) { one.hidden = true; });
  var first = nextOne();
  go(plan.pieces.length ? "p-" + (first < 0 ? 0 : first) : "v-list");
})();
