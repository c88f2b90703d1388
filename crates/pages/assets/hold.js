// Sliders beside the numbers of "What if": dragging asks for what the truck then bears, one question at a time, the
// newest wins. Without this module the form asks by its button.
const form = document.querySelector('form[data-hold]');
const held = document.getElementById('held');

if (form && held) {
  let asking = false;
  let again = false;

  const ask = async () => {
    if (asking) {
      again = true;
      return;
    }
    asking = true;
    const wish = new URLSearchParams(new FormData(form));
    try {
      const answer = await fetch(`${form.dataset.hold}?${wish}`, { headers: { accept: 'text/html' } });
      if (answer.redirected) {
        location.reload();
        return;
      }
      if (answer.ok || answer.status === 422) {
        held.innerHTML = await answer.text();
        history.replaceState(null, '', `?${wish}#try`);
      }
    } catch {
      // The line is gone: what is shown stays, and the next move asks again.
    }
    asking = false;
    if (again) {
      again = false;
      ask();
    }
  };

  for (const number of form.querySelectorAll('input[type=number]')) {
    const slider = document.createElement('input');
    slider.type = 'range';
    for (const end of ['min', 'max']) slider[end] = number[end];
    slider.step = number.dataset.step;
    slider.value = number.value;
    slider.setAttribute('aria-label', `${number.labels[0].firstElementChild.textContent}, slider`);
    number.closest('.knob').querySelector('.slide').append(slider);
    slider.addEventListener('input', () => {
      number.value = slider.value;
      ask();
    });
    number.addEventListener('input', () => {
      slider.value = number.value;
      ask();
    });
  }
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    ask();
  });
  // Another state has other numbers: the page is asked for anew, without what was tried on the first.
  form.elements.of.addEventListener('change', () => {
    location.assign(`?of=${form.elements.of.value}#try`);
  });
}
