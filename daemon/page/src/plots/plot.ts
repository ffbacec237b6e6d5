// What is fetched when a plot is looked at.
export { drawAir } from "./plot_air";
export { drawCourse } from "./plot_course";
