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
      mark.addEventListener("mouseenter", function () { say(mark); });
      mark.addEventListener("mouseleave", function () { reading.textContent = rest; });
      mark.addEventListener("focus", function () { at = index; say(mark); });
    });
    chart.addEventListener("keydown", function (event) {
      var step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
      if (!step || !event.target.hasAttribute("data-says")) { return; }
      event.preventDefault();
      marks[at].setAttribute("tabindex", "-1");
      at = Math.min(marks.length - 1, Math.max(0, at + step));
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
}());
