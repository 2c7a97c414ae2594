import { makeStaticStyles } from "@fluentui/react-components";

/** Height of what a finger presses, px (WCAG 2.2, 2.5.5). */
const FINGER = "44px";

/** Where the pointer is a finger, everything that is pressed grows to the size of one; dialogs stand outside the pane and grow too. */
export const useTouchSizes = makeStaticStyles(`@media (pointer: coarse) {
  .fui-FluentProvider button, .fui-FluentProvider select, .fui-FluentProvider summary, .fui-FluentProvider .fui-Input, .fui-FluentProvider .fui-Checkbox,
  .fui-FluentProvider input:not([type="checkbox"]):not([type="radio"]):not([type="file"]) { min-height: ${FINGER}; }
  .fui-FluentProvider button { min-width: ${FINGER}; }
  .fui-FluentProvider summary { align-content: center; }
  .fui-FluentProvider .fui-Checkbox { align-items: center; }
}`);
