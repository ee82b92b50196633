let said: HTMLElement | undefined;

/** Say a sentence to those who listen, without moving the focus. */
export function announce(sentence: string): void {
  said ??= place();
  said.textContent = '';
  const box = said;
  // A change is announced, the same words again are not: let the empty text be seen first.
  setTimeout(() => {
    box.textContent = sentence;
  }, 50);
}

function place(): HTMLElement {
  const box = document.createElement('div');
  box.setAttribute('role', 'status');
  box.className = 'spoken';
  document.body.append(box);
  return box;
}
