// Keeps what is logged on this phone until it is handed over. It never reckons: it shows what the sheet says and writes down what is tapped.
(function () {
  "use strict";
  var sheet = JSON.parse(document.getElementById("sheet").textContent);
  var server = document.body.dataset.server, slug = document.body.dataset.job;
  var key = "harlwright-site:" + (slug || sheet.job);
  var byId = function (id) { return document.getElementById(id); };
  var entries = [], keeps = true;

  function read(name, fallback) {
    try { return JSON.parse(localStorage.getItem(name)) || fallback; } catch (e) { return fallback; }
  }
  function write() {
    try { localStorage.setItem(key, JSON.stringify(entries)); keeps = true; } catch (e) { keeps = false; }
  }
  function pad(n) { return (n < 10 ? "0" : "") + n; }
  function now() {
    var d = new Date(), o = -d.getTimezoneOffset(), a = Math.abs(o);
    return d.getFullYear() + "-" + pad(d.getMonth() + 1) + "-" + pad(d.getDate()) + "T" + pad(d.getHours()) + ":" + pad(d.getMinutes()) + ":" +
      pad(d.getSeconds()) + (o < 0 ? "-" : "+") + pad(Math.floor(a / 60)) + ":" + pad(a % 60);
  }
  function today() { return now().slice(0, 10); }
  function id() {
    var bytes = crypto.getRandomValues(new Uint8Array(16)), text = "";
    bytes.forEach(function (b) { text += (b < 16 ? "0" : "") + b.toString(16); });
    return text;
  }
  function wallName(wall) {
    var option = Array.prototype.find.call(byId("wall").options, function (o) { return o.value === wall; });
    return option ? option.textContent : wall;
  }
  function kindName(kind) {
    var option = Array.prototype.find.call(byId("kind").options, function (o) { return o.value === kind; });
    return option ? option.textContent : kind;
  }
  function says(entry) {
    return wallName(entry.wall) + ": " + kindName(entry.kind).toLowerCase() + (entry.coat ? ", " + entry.coat : "") +
      (entry.result ? ", " + entry.result : "") + (entry.words ? ". " + entry.words : "") + " (" + entry.at.slice(0, 16).replace("T", " ") + ")";
  }
  function keep(entry) {
    entry.id = id(); entry.at = now(); entry.who = byId("who").value.trim() || "the gang"; entry.revision = sheet.revision;
    Object.keys(entry).forEach(function (k) { if (entry[k] === "") { delete entry[k]; } });
    entries.push(entry); write(); show();
    byId("kept").textContent = "Kept on this phone: " + says(entry);
  }
  function show() {
    var list = byId("entries"), open = entries.filter(function (e) { return !e.handed; });
    list.textContent = "";
    entries.slice().reverse().forEach(function (entry) {
      var item = document.createElement("li"), words = document.createElement("span");
      words.textContent = says(entry) + (entry.handed ? " · handed over" : "");
      item.appendChild(words);
      if (!entry.handed) {
        var back = document.createElement("button");
        back.type = "button"; back.textContent = "Take back";
        back.setAttribute("aria-label", "Take back: " + says(entry));
        back.addEventListener("click", function () {
          entries = entries.filter(function (e) { return e !== entry; }); write(); show();
          byId("kept").textContent = "Taken back: " + says(entry); byId("kept").focus();
        });
        item.appendChild(back);
      }
      list.appendChild(item);
    });
    byId("file").disabled = entries.length === 0;
    byId("send").hidden = !server || open.length === 0;
    byId("where").textContent = keeps
      ? open.length + (open.length === 1 ? " entry is" : " entries are") + " kept on this phone and not handed over yet."
      : "This browser keeps nothing for this page. Hand over as a file before you close it, or the entries are lost.";
    byId("where").className = keeps ? "note" : "warn";
  }
  function whole() {
    return { format: "site-log/1", job: { name: sheet.job, slug: slug || null, revision: sheet.revision },
      entries: entries.map(function (e) { var copy = Object.assign({}, e); delete copy.handed; return copy; }) };
  }
  function handed() { entries.forEach(function (e) { e.handed = true; }); write(); show(); }
  function toFile() {
    var name = "site-log-" + (slug || "sheet") + "-" + today() + ".json";
    var blob = new Blob([JSON.stringify(whole(), null, 1)], { type: "application/json" });
    var link = document.createElement("a");
    link.href = URL.createObjectURL(blob); link.download = name;
    document.body.appendChild(link); link.click(); link.remove();
    handed();
    byId("kept").textContent = "Written to " + name + ". Give that file to the office; handing it over twice does no harm.";
  }
  function send() {
    var bytes = new TextEncoder().encode(JSON.stringify(whole())), text = "";
    bytes.forEach(function (b) { text += String.fromCharCode(b); });
    handed();
    // The entries travel behind the "#", which no server sees until its own page asks to take them in.
    location.href = server + "/jobs/" + encodeURIComponent(slug) + "/log/hand-in#" + btoa(text).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
  }
  function buttons(wall) {
    var row = document.createElement("div"), d = wall.dataset;
    row.className = "tap";
    function button(words, entry) {
      var b = document.createElement("button");
      b.type = "button"; b.textContent = words; b.setAttribute("aria-label", wallName(d.wall) + ": " + words);
      b.addEventListener("click", function () { keep(Object.assign({ wall: d.wall, day: d.day }, entry)); });
      row.appendChild(b);
    }
    if (d.coat) { button("Coat on", { kind: "placed", coat: d.coat }); }
    if (d.hang) { button(d.hang.indexOf("strike") === 0 ? "Taken down" : "Hung", { kind: d.hang.indexOf("strike") === 0 ? "struck" : "hung", words: d.hang }); }
    if (d.wet !== "0") { button("Damped now", { kind: "damped" }); }
    if (d.test) { button("Test holds", { kind: "tested", words: d.test, result: "holds" }); button("Test: not yet", { kind: "tested", words: d.test, result: "not yet" }); }
    if (row.firstChild) { wall.appendChild(row); }
  }
  function steps(weeks) {
    var row = document.createElement("div"), select = document.createElement("select"), label = document.createElement("label");
    label.htmlFor = "which"; label.textContent = "Week"; select.id = "which"; row.className = "steps";
    weeks.forEach(function (week) { select.add(new Option(week.querySelector("h2").textContent, week.id)); });
    var current = weeks.find(function (week) { return week.dataset.to >= today(); }) || weeks[weeks.length - 1];
    select.value = current.id;
    function pick() { weeks.forEach(function (week) { week.hidden = week.id !== select.value; }); }
    select.addEventListener("change", pick); pick();
    row.appendChild(label); row.appendChild(select);
    byId("weeks").insertBefore(row, byId("weeks").firstChild);
  }

  entries = read(key, []);
  if (!Array.isArray(entries)) { entries = []; }
  write();
  byId("who").value = read(key + ":who", "");
  byId("who").addEventListener("change", function () { try { localStorage.setItem(key + ":who", JSON.stringify(byId("who").value)); } catch (e) { keeps = false; show(); } });
  byId("entry").addEventListener("submit", function (event) {
    event.preventDefault();
    keep({ wall: byId("wall").value, kind: byId("kind").value, words: byId("words").value.trim() });
    byId("words").value = "";
  });
  byId("file").addEventListener("click", toFile);
  byId("send").addEventListener("click", send);
  window.addEventListener("beforeunload", function (event) { if (!keeps && entries.length) { event.preventDefault(); } });
  document.querySelectorAll(".wall").forEach(buttons);
  document.querySelectorAll(".day").forEach(function (day) { day.classList.toggle("today", day.dataset.day === today()); });
  var weeks = Array.prototype.slice.call(document.querySelectorAll(".week"));
  if (weeks.length) { steps(weeks); }
  byId("kept").tabIndex = -1;
  byId("log").hidden = false;
  show();
}());
