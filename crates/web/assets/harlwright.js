/* Enhancement only: every page works without it. */
(function () {
  "use strict";
  // Progress of a reckoning, as it comes.
  var waiting = document.querySelector("[data-progress]");
  if (waiting && window.EventSource) {
    var bar = waiting.querySelector("progress"), says = waiting.querySelector("[data-says-progress]");
    var stream = new EventSource(waiting.getAttribute("data-progress"));
    stream.addEventListener("progress", function (event) {
      var at = JSON.parse(event.data);
      says.textContent = at.says;
      if (bar && at.of > 0) { bar.max = at.of; bar.value = at.done; }
    });
    stream.addEventListener("end", function () { stream.close(); location.reload(); });
    stream.onerror = function () { stream.close(); setTimeout(function () { location.reload(); }, 1500); };
  }
  // A drawing that follows what is typed.
  document.querySelectorAll("form[data-draws]").forEach(function (form) {
    var into = document.getElementById(form.getAttribute("data-into")), timer = 0, asked = 0;
    if (!into) { return; }
    form.addEventListener("input", function () {
      clearTimeout(timer);
      timer = setTimeout(function () {
        var mine = ++asked;
        fetch(form.getAttribute("data-draws"), { method: "POST", body: new URLSearchParams(new FormData(form)) })
          .then(function (answer) { return answer.ok ? answer.text() : null; })
          .then(function (text) { if (text !== null && mine === asked) { into.innerHTML = text; } })
          .catch(function () {});
      }, 180);
    });
  });
  // What a mark on a chart says, on hover and by keyboard: arrows step along the marks.
  document.querySelectorAll("[data-chart]").forEach(function (chart) {
    var reading = chart.querySelector(".reading"), marks = Array.prototype.slice.call(chart.querySelectorAll("[data-says]")), at = 0;
    if (!reading || !marks.length) { return; }
    var rest = reading.textContent;
    function say(mark) { reading.textContent = mark.getAttribute("data-says"); }
    marks.forEach(function (mark, index) {
      mark.setAttribute("tabindex", index === 0 ? "0" : "-1");
      if (!mark.hasAttribute("role")) { mark.setAttribute("role", mark.hasAttribute("data-goes") ? "link" : "img"); }
      if (!mark.hasAttribute("aria-label")) { mark.setAttribute("aria-label", mark.getAttribute("data-says")); }
      mark.addEventListener("click", function () { if (mark.hasAttribute("data-goes")) { location.href = mark.getAttribute("data-goes"); } });
      mark.addEventListener("mouseenter", function () { say(mark); });
      mark.addEventListener("mouseleave", function () { reading.textContent = rest; });
      mark.addEventListener("focus", function () { at = index; say(mark); });
    });
    // The nearest mark straight above or below.
    function beside(down) {
      var here = marks[at].getBoundingClientRect(), best = -1, least = Infinity;
      marks.forEach(function (mark, index) {
        var there = mark.getBoundingClientRect(), away = (there.top - here.top) * (down ? 1 : -1);
        var cost = away + 8 * Math.abs(there.left - here.left);
        if (away > here.height / 2 && cost < least) { best = index; least = cost; }
      });
      return best < 0 ? at : best;
    }
    chart.addEventListener("keydown", function (event) {
      if (!event.target.hasAttribute("data-says")) { return; }
      var step = { ArrowRight: 1, ArrowLeft: -1 }[event.key], to = at;
      if (step) { to = Math.min(marks.length - 1, Math.max(0, at + step)); }
      else if (event.key === "ArrowDown" || event.key === "ArrowUp") { to = beside(event.key === "ArrowDown"); }
      else if (event.key === "Enter" && event.target.hasAttribute("data-goes")) { location.href = event.target.getAttribute("data-goes"); return; }
      else { return; }
      event.preventDefault();
      marks[at].setAttribute("tabindex", "-1");
      at = to;
      marks[at].setAttribute("tabindex", "0");
      marks[at].focus();
    });
  });
  // Leaving a form that was typed into asks first; sending it does not.
  document.querySelectorAll("form[data-keeps]").forEach(function (form) {
    var touched = false;
    form.addEventListener("input", function () { touched = true; });
    form.addEventListener("submit", function () { touched = false; });
    window.addEventListener("beforeunload", function (event) { if (touched) { event.preventDefault(); } });
  });
  // Entries that a phone brought behind the "#" are put into the form; a person sends it.
  var handIn = document.querySelector("form[data-hand-in]"), brought = location.hash.slice(1);
  if (handIn && brought && location.pathname.slice(-8) === "/hand-in") {
    var tells = document.querySelector("[data-hand-in-says]");
    try {
      var raw = atob(brought.replace(/-/g, "+").replace(/_/g, "/")), bytes = new Uint8Array(raw.length);
      for (var i = 0; i < raw.length; i++) { bytes[i] = raw.charCodeAt(i); }
      var told = new TextDecoder("utf-8", { fatal: true }).decode(bytes), count = JSON.parse(told).entries.length;
      handIn.querySelector("textarea").value = told;
      tells.textContent = count + (count === 1 ? " entry came" : " entries came") + " with the phone. They are taken in when you say so.";
    } catch (e) {
      tells.textContent = "What came with the address is no log of a site sheet. Hand it over as a file instead.";
    }
    history.replaceState(null, "", location.pathname);
  }
}());
