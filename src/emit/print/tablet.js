/* What makes the tablet's page work: it keeps ticks and readings, says what is next and counts waits
 * down.  All of it stays in this browser, under the digest of the recipe, so that another version
 * begins with none; where the browser keeps nothing, the page works until it is closed.
 *
 * What the run is, stands in the page as data (src/emit/order/tablet.h).  A box is bound to pieces
 * of work and is ticked when all of them are done, so boxes at a step, in the plan and on the card
 * are the same tick.  Texts of the recipe are set as text, never as markup.
 */
(() => {
    "use strict";
    const data = document.getElementById("run");
    const run = Object.assign({ digest: "", make: 1, steps: [], pieces: [], sittings: [] },
        data ? JSON.parse(data.textContent) : {});
    const store = "plugwright " + (run.digest || document.title);
    const every = (where, what) => Array.from(where.querySelectorAll(what));
    const BOX = "input[type=checkbox]";

    /* --- what is kept: when each piece was ticked, and the other boxes and readings ------------ */

    function kept() {
        let found = null;
        try {
            found = JSON.parse(localStorage.getItem(store));
        } catch (e) { /* nothing is kept here, or what was kept is no longer readable */ }
        const part = key => found && typeof found[key] === "object" && found[key] || {};
        return { pieces: part("pieces"), boxes: part("boxes"), texts: part("texts") };
    }

    let state = kept();

    function keep() {
        try {
            localStorage.setItem(store, JSON.stringify(state));
        } catch (e) { /* the page works for today */ }
    }

    /* --- steps and their pieces ---------------------------------------------------------------- */

    const pieces_of = new Map(run.steps.map(step => [step.number, []]));
    const step_of = new Map(run.steps.map(step => [step.number, step]));
    run.pieces.forEach(piece => pieces_of.get(piece.step).push(piece));

    const is_done = piece => piece.key in state.pieces;

    /* When the last of a step's pieces was ticked, in ms; 0: not all are. */
    function finished(number) {
        const pieces = pieces_of.get(number);
        return pieces.length && pieces.every(is_done)
            ? Math.max(...pieces.map(piece => state.pieces[piece.key])) : 0;
    }

    /* When a finished step has waited long enough, in ms; 0: it does not wait, or is not done. */
    function end_of_wait(number) {
        const at = finished(number), wait = step_of.get(number).wait_s;
        return at && wait > 0 ? at + wait * 1000 : 0;
    }

    function tick(pieces, done) {
        const now = Date.now();
        pieces.forEach(piece => {
            if (!done) delete state.pieces[piece.key];
            else if (!is_done(piece)) state.pieces[piece.key] = now;
        });
        keep();
        show();
    }

    /* --- words --------------------------------------------------------------------------------- */

    const two = number => String(number).padStart(2, "0");
    const titled = step => step.number + ". " + step.title;

    function plugs(piece) {
        if (piece.first === 1 && piece.last === run.make) return "";
        if (piece.first === piece.last) return ", plug " + piece.first;
        return ", plugs " + piece.first + (piece.last === piece.first + 1 ? " and " : " to ") + piece.last;
    }

    /* "14:30" today, "Sun 14:30" within the week, else with the date. */
    function moment(ms) {
        const then = new Date(ms), now = new Date();
        const clock = two(then.getHours()) + ":" + two(then.getMinutes());
        const days = "Sun Mon Tue Wed Thu Fri Sat".split(" ");
        const months = "Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec".split(" ");
        if (then.toDateString() === now.toDateString()) return clock;
        if (Math.abs(then - now) < 6 * 86400e3) return days[then.getDay()] + " " + clock;
        return days[then.getDay()] + " " + then.getDate() + " " + months[then.getMonth()] + ", " + clock;
    }

    /* "2 d 3:04:05", "0:12:30" */
    function left(ms) {
        const s = Math.max(0, Math.ceil(ms / 1000)), days = Math.floor(s / 86400);
        return (days ? days + " d " : "") + Math.floor(s % 86400 / 3600) + ":" +
            two(Math.floor(s % 3600 / 60)) + ":" + two(s % 60);
    }

    function wait_text(number, now) {
        const end = end_of_wait(number);
        if (!end) return "";
        return end > now ? "Leave it " + left(end - now) + " more, until " + moment(end)
            : "The wait is over since " + moment(end);
    }

    /* What stands between now and the beginning of a step. */
    function when_text(step, now) {
        let from = 0, by = Infinity;
        step.after.forEach(link => {
            from = Math.max(from, end_of_wait(link.step));
            const done = finished(link.step);
            if (done && link.within_s) by = Math.min(by, done + link.within_s * 1000);
        });
        const words = [];
        if (from > now) words.push("Not before " + moment(from) + ": " + left(from - now));
        else if (from) words.push("The wait before it is over");
        if (by < Infinity) words.push((by < now ? "Should have begun by " : "Begin by ") + moment(by));
        return words.join(" · ");
    }

    /* --- boxes --------------------------------------------------------------------------------- */

    const bound = [];       /* {box, pieces} */
    const place = new Map(); /* of a step on the page */
    const clocks = [];      /* {line, number} */

    function make(name, words, kind) {
        const element = document.createElement(name);
        if (words) element.textContent = words;
        if (kind) element.className = kind;
        return element;
    }

    function bind(box, pieces, label) {
        if (!box || !pieces.length) return;
        bound.push({ box, pieces });
        box.setAttribute("aria-label", label);
        box.addEventListener("change", () => tick(pieces, box.checked));
    }

    function clock_line(number, before) {
        const line = make("p", "", "wait");
        line.hidden = true;
        before.parentNode.insertBefore(line, before);
        clocks.push({ line, number });
    }

    function bind_rows(where) {
        every(where, "td " + BOX).forEach(box => {
            const cell = box.closest("td"), number = parseInt(cell.textContent, 10);
            if (!pieces_of.has(number)) return;
            bind(box, pieces_of.get(number), "step " + number + " done");
            place.set(number, cell.parentNode);
        });
    }

    /* A step is a heading "15. …", or several in one block with a row each are "24 to 28. …". */
    function bind_steps(where) {
        every(where, "h4").forEach(head => {
            const found = /^(\d+)(?:\s+to\s+(\d+))?\.\s/.exec(head.textContent);
            const first = found && Number(found[1]), last = found && Number(found[2] || first);
            const numbers = run.steps.map(step => step.number).filter(n => found && n >= first && n <= last);
            if (!numbers.length) return;
            const pieces = [].concat(...numbers.map(n => pieces_of.get(n)));
            const section = head.parentNode, tasks = section.querySelector(".tasks");
            bind(section.querySelector(BOX), pieces,
                first === last ? "step " + first + " done" : "steps " + first + " to " + last + " done");
            numbers.forEach(n => {
                place.set(n, section);
                if (tasks) clock_line(n, tasks);
            });
        });
        bind_rows(where);
    }

    /* --- the plan: sittings with their pieces -------------------------------------------------- */

    function piece_line(piece) {
        const line = make("li"), box = make("input"), words = make("button", "", "to");
        box.type = "checkbox";
        words.type = "button";
        words.textContent = (piece.clock ? piece.clock + " " : "") + titled(step_of.get(piece.step)) +
            plugs(piece) + (piece.work ? ", " + piece.work : "") +
            (piece.by ? "; begin by " + piece.by : "");
        words.addEventListener("click", () => go(piece.step));
        bind(box, [piece], "step " + piece.step + plugs(piece) + " done");
        line.append(box, words);
        return line;
    }

    function add_plan(before) {
        const plan = make("section");
        plan.id = "plan";
        plan.className = "level2";
        plan.append(make("h2", "Plan"));
        let list = null, open = -1;
        run.pieces.forEach(piece => {
            if (piece.sitting !== undefined && piece.sitting !== open) {
                open = piece.sitting;
                const sitting = run.sittings[open], head = make("h3"), box = make("input");
                box.type = "checkbox";
                bind(box, run.pieces.filter(other => other.sitting === open), "sitting " + sitting.when + " done");
                head.append(box, make("span", sitting.when + " · " + sitting.work));
                list = null;
                plan.append(head);
            }
            if (!list) {
                list = make("ul");
                plan.append(list);
            }
            list.append(piece_line(piece));
        });
        before.parentNode.insertBefore(plan, before);
    }

    /* A table of sittings, on the card or with the timeline. */
    function bind_sittings(table) {
        every(table, "tbody tr").forEach((row, i) => {
            if (run.sittings[i])
                bind(row.querySelector(BOX), run.pieces.filter(piece => piece.sitting === i),
                    "sitting " + run.sittings[i].when + " done");
        });
    }

    /* --- all other boxes, and readings --------------------------------------------------------- */

    function keep_fields() {
        const own = new Set(bound.map(b => b.box)), count = {};
        every(document, "input").forEach(field => {
            if (own.has(field)) return;
            const section = field.closest("section[id]"), id = section ? section.id : "";
            const box = field.type === "checkbox", kind = box ? "boxes" : "texts";
            const key = id + " " + (count[kind + id] = (count[kind + id] || 0) + 1);
            field.show = () => {
                if (box) field.checked = state.boxes[key] === 1;
                else if (field !== document.activeElement) field.value = state.texts[key] || "";
            };
            field.addEventListener("input", () => {
                if (box && field.checked) state.boxes[key] = 1;
                else if (!box && field.value) state.texts[key] = field.value;
                else delete state[kind][key];
                keep();
                show();
            });
        });
    }

    /* --- the bar: what is next ----------------------------------------------------------------- */

    const bar = make("nav"), next = make("button", "", "next"), title = make("strong");
    const needs = make("span"), warns = make("span"), when = make("span", "", "when");
    const waits = make("p", "", "waits"), chapters = make("select"), counter = make("span", "", "count");

    function go(number) {
        const target = place.get(number);
        if (target) target.scrollIntoView();
    }

    function next_piece() {
        return run.pieces.find(piece => !is_done(piece));
    }

    function add_bar() {
        const row = make("div");
        bar.setAttribute("aria-label", "next step and chapters");
        next.type = "button";
        next.append(title, needs, warns, when);
        next.addEventListener("click", () => {
            const piece = next_piece();
            if (piece) go(piece.step);
        });
        chapters.add(new Option("Go to a chapter", ""));
        every(document, "h2").forEach(head => chapters.add(new Option(head.textContent, head.parentNode.id)));
        chapters.setAttribute("aria-label", "chapter");
        chapters.addEventListener("change", () => {
            document.getElementById(chapters.value).scrollIntoView();
            chapters.value = "";
        });
        row.append(chapters, counter);
        if (run.pieces.length) bar.append(next, waits);
        bar.append(row);
        document.body.prepend(bar);
    }

    /* --- what is shown ------------------------------------------------------------------------- */

    function fill(element, words) {
        if (element.textContent !== words) element.textContent = words;
        element.hidden = !words;
    }

    function show_clocks() {
        const now = Date.now(), piece = next_piece();
        clocks.forEach(clock => {
            fill(clock.line, wait_text(clock.number, now));
            clock.line.classList.toggle("over", end_of_wait(clock.number) <= now);
        });
        fill(when, piece ? when_text(step_of.get(piece.step), now) : "");
        const before = piece ? step_of.get(piece.step).after.map(link => link.step) : [];
        const running = run.steps.filter(step => end_of_wait(step.number) > now && !before.includes(step.number))
            .sort((a, b) => end_of_wait(a.number) - end_of_wait(b.number));
        fill(waits, running.slice(0, 2).map(step => "Step " + step.number + " waits " +
            left(end_of_wait(step.number) - now)).join(" · "));
        document.documentElement.style.setProperty("--bar", bar.offsetHeight + "px");
    }

    function show_next() {
        const piece = next_piece(), step = piece && step_of.get(piece.step);
        fill(title, step ? "Next: " + titled(step) + plugs(piece) : "All steps are done");
        fill(needs, step ? [step.work, step.amount].filter(Boolean).join(" · ") : "");
        fill(warns, step && step.cautions ? "Caution: " + step.cautions : "");
        const done = run.steps.filter(each => each.done || finished(each.number)).length;
        fill(counter, run.steps.length ? done + " of " + run.steps.length + " steps" : "");
    }

    /* What is ticked off steps back, so that the eye falls on what is next. */
    function fade(box) {
        const item = box.closest("li, tr, h3");
        if (item && item.querySelector(BOX) === box) item.classList.toggle("done", box.checked);
    }

    function show() {
        bound.forEach(b => {
            b.box.checked = b.pieces.every(is_done);
            b.box.indeterminate = !b.box.checked && b.pieces.some(is_done);
        });
        every(document, "input").forEach(field => {
            if (field.show) field.show();
            if (field.type === "checkbox") fade(field);
        });
        show_next();
        show_clocks();
    }

    const steps = document.querySelector("section#steps, section#steps-in-brief");
    const sittings = every(document, "section#when, section#timeline").map(at => at.querySelector("table"));
    if (steps) {
        bind_steps(steps);
        if (run.pieces.length) add_plan(steps);
    }
    sittings.filter(Boolean).forEach(bind_sittings);
    keep_fields();
    add_bar();
    show();
    setInterval(show_clocks, 1000);
    addEventListener("storage", event => {
        if (event.key !== store) return;
        state = kept(); /* the same order in another window */
        show();
    });
})();
