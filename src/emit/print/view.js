/* The living page: asks the script beside it four times a second for the state of the recipe, and
 * loads itself anew where that is another one.  What was in sight stays in sight.
 */
(function () {
    "use strict";
    const page = document.documentElement, nonce = document.currentScript.nonce;
    const pause = 250; /* ms */
    const kept = history.state || {};

    /* The last thing that begins above the middle of the window, by its id, and where it begins. */
    function inSight() {
        const named = Array.from(document.querySelectorAll("section[id]"));
        const above = named.filter(e => e.getBoundingClientRect().top < innerHeight / 2);
        const last = above[above.length - 1];
        return last && scrollY > 0 ? {id: last.id, top: last.getBoundingClientRect().top} : null;
    }

    function comeBack(sight) {
        const element = sight && document.getElementById(sight.id);
        if (element) scrollBy(0, element.getBoundingClientRect().top - sight.top);
        else if (sight) scrollTo(0, sight.y);
    }

    function renew(state) {
        const sight = inSight();
        const opened = Array.from(document.querySelectorAll("details[open]"), e => e.id);
        history.replaceState({asked: state, opened, sight: sight && {...sight, y: scrollY}}, "");
        history.scrollRestoration = "manual";
        location.reload();
    }

    function askAgain() {
        const script = document.createElement("script");
        script.nonce = nonce;
        script.src = "view.js?" + Date.now();
        script.onload = script.onerror = () => {
            script.remove();
            setTimeout(askAgain, pause);
        };
        document.body.append(script);
    }

    /* Called by that script.  A state that this page was asked for and is not is not asked for
     * twice: then the two files do not belong together. */
    window.plugwrightState = function (state, watched) {
        if (state !== page.dataset.state && state !== kept.asked) renew(state);
        const note = document.getElementById("watched");
        note.hidden = watched;
        note.textContent = watched ? "" : "This recipe is not watched any more: the page stays as it is.";
    };

    (kept.opened || []).forEach(id => {
        const element = document.getElementById(id);
        if (element) element.open = true;
    });
    comeBack(kept.sight);
    history.scrollRestoration = "auto";
    askAgain();
})();
