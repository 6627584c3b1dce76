/**
 * A form that shows what it gives while one types must ask for that, whatever has the focus.
 *
 * htmx takes a form's request for that of the submit button in it that has the focus: address
 * and name of the button replace the form's own. Whoever types and goes on to “Add a row”
 * before the preview was asked for would get a second form in place of the result.
 */

interface Asked {
  elt: Element;
  path: string;
  formData: FormData;
}

/** Send what a form asks for by itself to its own address, without the name of any button. */
export function askOnlyForThePreview(asked: Asked): void {
  const form = asked.elt;
  const own = form.getAttribute("hx-post");
  if (!(form instanceof HTMLFormElement) || own === null) {
    return;
  }
  asked.path = own;
  for (const button of form.querySelectorAll<HTMLButtonElement>("button[name]")) {
    asked.formData.delete(button.getAttribute("name") ?? "");
  }
}

/** Forget what comes back for a form inside `root` that was laid out again in the meantime. */
export function dropLateAnswers(root: HTMLElement): void {
  const forms = [...root.querySelectorAll<HTMLFormElement>("form[data-draft]")];
  if (root instanceof HTMLFormElement) {
    forms.push(root);
  }
  for (const form of forms) {
    form.addEventListener("htmx:beforeOnLoad", (event) => {
      if (event.target === form && !form.isConnected) {
        event.preventDefault();
      }
    });
  }
}
