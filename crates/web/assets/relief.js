/* The depth under the pointer, and two presses on the map for the ends of a profile. Without it both are typed. */
(function () {
  "use strict";
  document.querySelectorAll("[data-depths]").forEach(function (figure) {
    var svg = figure.querySelector("svg"), says = figure.querySelector(".reading"), form = document.getElementById("profile");
    if (!svg || !says) { return; }
    var depths = null, ends = [], rest = says.textContent;
    fetch(figure.getAttribute("data-depths")).then(function (answer) { return answer.ok ? answer.json() : null; })
      .then(function (table) { depths = table; }).catch(function () {});
    function place(event) {
      if (!depths) { return null; }
      var box = svg.getBoundingClientRect(), longer = Math.max(depths.length_m, depths.height_m), scale = box.width / longer;
      var along = (event.clientX - box.left) / scale, up = depths.height_m - (event.clientY - box.top) / scale;
      return along >= 0 && up >= 0 && along < depths.length_m && up < depths.height_m ? { along: along, up: up } : null;
    }
    svg.addEventListener("pointermove", function (event) {
      var at = place(event);
      if (!at) { says.textContent = rest; return; }
      var row = depths.tenths_mm[Math.floor(at.up / depths.cell_m)], tenths = row ? row[Math.floor(at.along / depths.cell_m)] : null;
      says.textContent = at.along.toFixed(2) + " m along, " + at.up.toFixed(2) + " m up: " + (tenths === null || tenths === undefined ? "no wall" : (tenths / 10).toFixed(1) + " mm");
    });
    svg.addEventListener("pointerleave", function () { says.textContent = rest; });
    svg.addEventListener("click", function (event) {
      var at = place(event);
      if (!at || !form) { return; }
      ends.push(at);
      if (ends.length < 2) { says.textContent = "Now the other end of the profile."; return; }
      ends.forEach(function (end, index) {
        form.elements["x" + (index + 1)].value = end.along.toFixed(2);
        form.elements["y" + (index + 1)].value = end.up.toFixed(2);
      });
      form.submit();
    });
  });
}());
