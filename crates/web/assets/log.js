/* The log on the scaffold: an entry is kept on the phone first, then sent; without a signal it waits and nothing is lost. */
(function () {
  "use strict";
  var PLACE = "harlwright-log", forms = document.querySelectorAll("form[data-log]"), line = document.querySelector("[data-kept]"), sending = false;
  function read() { try { return JSON.parse(localStorage.getItem(PLACE) || "[]"); } catch (_) { return []; } }
  function write(list) { localStorage.setItem(PLACE, JSON.stringify(list)); }
  function two(number) { return (number < 10 ? "0" : "") + number; }
  function now() {
    var at = new Date(), off = -at.getTimezoneOffset(), size = Math.abs(off);
    return at.getFullYear() + "-" + two(at.getMonth() + 1) + "-" + two(at.getDate()) + "T" + two(at.getHours()) + ":" + two(at.getMinutes()) + ":" + two(at.getSeconds()) +
      (off < 0 ? "-" : "+") + two(Math.floor(size / 60)) + ":" + two(size % 60);
  }
  function name() {
    var bytes = new Uint8Array(12);
    crypto.getRandomValues(bytes);
    return Array.prototype.map.call(bytes, function (byte) { return (byte < 16 ? "0" : "") + byte.toString(16); }).join("");
  }
  function show(words) {
    if (!line) { return; }
    var kept = read().length;
    line.hidden = kept === 0;
    line.textContent = kept === 0 ? "" : (kept === 1 ? "1 entry is" : kept + " entries are") + " kept on this phone " + words;
  }
  function send() {
    var list = read();
    if (sending || !list.length) { show("and will be sent."); return; }
    sending = true;
    var first = list[0];
    fetch(first.to, { method: "POST", body: new URLSearchParams(first.body) }).then(function (answer) {
      sending = false;
      if (answer.status === 201) {
        write(read().filter(function (entry) { return entry.id !== first.id; }));
        show("and will be sent.");
        send();
      } else if (answer.status === 401 || answer.status === 403) { show("and will be sent once you have signed in again."); }
      else { show("; the job book would not take the first of them (" + answer.status + ")."); }
    }).catch(function () { sending = false; show("and will be sent when there is a signal."); });
  }
  forms.forEach(function (form) {
    form.addEventListener("submit", function (event) {
      var button = event.submitter, told = form.querySelector(".done-now"), body = new URLSearchParams(new FormData(form));
      if (button) { body.set(button.name, button.value); }
      if (button && button.value === "" && body.get("kind") === "note" && !body.get("words").trim()) {
        event.preventDefault();
        told.textContent = "Write what it was first.";
        return;
      }
      body.set("id", name()); body.set("at", now()); body.set("quiet", "1");
      try { write(read().concat([{ id: body.get("id"), to: form.getAttribute("action"), body: body.toString() }])); }
      catch (_) { return; /* No room on the phone: the form is sent as it is. */ }
      event.preventDefault();
      told.textContent = "Logged at " + now().slice(11, 16) + ": " + (button && button.value ? button.textContent : form.querySelector("select").selectedOptions[0].textContent) + ".";
      var words = form.querySelector("textarea");
      if (words) { words.value = ""; }
      send();
    });
  });
  if (forms.length) { send(); window.addEventListener("online", send); setInterval(send, 30000); }
}());
