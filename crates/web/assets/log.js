/* The log on the scaffold: an entry is kept on the phone first, then sent; without a signal it waits and nothing is lost. One that the job book
   refuses for what it says is set aside and shown, so that it does not hold up those behind it. */
(function () {
  "use strict";
  var PLACE = "harlwright-log", ASIDE = "harlwright-log-refused", REFUSES = [400, 404, 422], forms = document.querySelectorAll("form[data-log]"), line = document.querySelector("[data-kept]"), sending = false;
  var aside = line && line.parentNode.insertBefore(document.createElement("div"), line.nextSibling);
  function kept(place) { try { return JSON.parse(localStorage.getItem(place) || "[]"); } catch (_) { return []; } }
  function read() { return kept(PLACE); }
  function write(list) { localStorage.setItem(PLACE, JSON.stringify(list)); }
  function without(list, id) { return list.filter(function (entry) { return entry.id !== id; }); }
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
    var waiting = read().length;
    line.hidden = waiting === 0;
    line.textContent = waiting === 0 ? "" : (waiting === 1 ? "1 entry is" : waiting + " entries are") + " kept on this phone " + words;
  }
  function setAside(entry, status) {
    // Kept there before it is taken from here: if the phone goes out between, it stands twice and is lost nowhere.
    localStorage.setItem(ASIDE, JSON.stringify(without(kept(ASIDE), entry.id).concat([{ id: entry.id, to: entry.to, body: entry.body, status: status }])));
    write(without(read(), entry.id));
    showAside();
  }
  function inWords(entry) {
    var said = new URLSearchParams(entry.body), what = said.get("tell") || said.get("kind") || "entry";
    return [what.replace(":", ": "), said.get("wall"), (said.get("at") || "").slice(0, 16).replace("T", " "), said.get("words")].filter(Boolean).join(", ");
  }
  function showAside() {
    if (!aside) { return; }
    var list = kept(ASIDE);
    aside.className = "kept";
    aside.hidden = list.length === 0;
    aside.textContent = "";
    if (!list.length) { return; }
    var says = aside.appendChild(document.createElement("p")), all = aside.appendChild(document.createElement("ul"));
    says.setAttribute("role", "status");
    says.textContent = "The job book would not take in what follows. Log it again as it should be, then take it off.";
    list.forEach(function (entry) {
      var item = all.appendChild(document.createElement("li")), off = document.createElement("button");
      item.textContent = inWords(entry) + " (" + entry.status + ") ";
      off.type = "button";
      off.textContent = "Take off";
      off.setAttribute("aria-label", "Take off: " + inWords(entry));
      off.addEventListener("click", function () { localStorage.setItem(ASIDE, JSON.stringify(without(kept(ASIDE), entry.id))); showAside(); });
      item.appendChild(off);
    });
  }
  function send() {
    var list = read();
    if (sending || !list.length) { show("and will be sent."); return; }
    sending = true;
    var first = list[0];
    fetch(first.to, { method: "POST", body: new URLSearchParams(first.body) }).then(function (answer) {
      sending = false;
      if (answer.status === 201) {
        write(without(read(), first.id));
        show("and will be sent.");
        send();
      } else if (REFUSES.indexOf(answer.status) >= 0) {
        setAside(first, answer.status);
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
  showAside();
  if (forms.length) { send(); window.addEventListener("online", send); setInterval(send, 30000); }
}());
