'use strict';
for (const wiper of document.querySelectorAll('.wiper')) {
  const input = wiper.querySelector('input');
  const wipe = () => wiper.style.setProperty('--at', input.value + '%');
  input.addEventListener('input', wipe);
  wipe();
}
const box = document.getElementById('answer');
const text = box.querySelector('textarea');
for (const label of document.querySelectorAll('.label')) {
  label.addEventListener('click', () => {
    box.classList.add('open');
    const before = text.value.replace(/\s*$/, '');
    text.value = (before ? before + '\n' : '') + label.textContent + ': ';
    text.focus();
  });
}
box.querySelector('.copy').addEventListener('click', () => {
  text.select();
  const done = () => { box.querySelector('.copy').textContent = 'Copied'; };
  if (navigator.clipboard) navigator.clipboard.writeText(text.value).then(done, () => document.execCommand('copy'));
  else if (document.execCommand('copy')) done();
});
box.querySelector('.close').addEventListener('click', () => box.classList.remove('open'));
