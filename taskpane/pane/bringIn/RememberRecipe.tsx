import { useState, type ReactNode } from "react";
import { Button, Field, Input } from "@fluentui/react-components";
import { words } from "../words.ts";

/** Keeps how this file was read, under a name, for the next files of its kind. */
export function RememberRecipe({ name: before, onRemember }: { readonly name: string; readonly onRemember: (name: string) => void }): ReactNode {
  const [name, setName] = useState(before);
  return (
    <form
      style={{ display: "flex", gap: 8, alignItems: "end", flexWrap: "wrap", marginTop: 8 }}
      onSubmit={(event) => {
        event.preventDefault();
        if (name.trim() !== "") onRemember(name.trim());
      }}
    >
      <Field label={words.bringIn.recipeName} size="small" style={{ flex: "1 1 140px", minWidth: 0 }}>
        <Input size="small" value={name} onChange={(_, data) => setName(data.value)} input={{ style: { minWidth: 0, width: "100%" } }} />
      </Field>
      <Button size="small" type="submit" disabledFocusable={name.trim() === ""}>
        {words.bringIn.remember}
      </Button>
    </form>
  );
}
