"""The care plan's calendar, read by icalendar, beside days counted from the plan's runs alone."""
from datetime import date, timedelta
from fractions import Fraction

from icalendar import Calendar


def read(text):
    """(first day, weeks, texts) of every event, by the run in its name; 0 for what comes after every run."""
    events = {}
    for event in Calendar.from_ical(text).walk("VEVENT"):
        name = str(event["UID"]).split("@")[0].rsplit("-", 1)[0]
        run = 0 if name == "every-run" else int(name.removeprefix("run-"))
        weeks = event["RRULE"]["COUNT"][0] if "RRULE" in event else 1
        events[run] = event["DTSTART"].dt, weeks, str(event["DESCRIPTION"])
    return events


def due(item, last):
    """Runs after which a line of the plan is due."""
    first, every = item["first_run"], item["every_runs"]
    again = range(every, last + 1, every) if every else ()
    return {run for run in (first, *(run for run in again if run > first)) if run <= last}


def expected(plan, first_day, runs_per_week, last):
    """The same from the plan: the day on which each run falls, runs spread evenly over the weeks."""
    rhythm = Fraction(str(runs_per_week))

    def day(run):
        return date.fromisoformat(first_day) + timedelta(days=7 * run // rhythm)

    every_run = [item for item in plan if (item["first_run"], item["every_runs"]) == (1, 1)]
    others = [item for item in plan if item not in every_run]
    events = {0: (day(1), -(-last // rhythm), every_run)} if every_run else {}
    for run in sorted(set().union(*(due(item, last) for item in others))):
        events[run] = day(run), 1, [item for item in others if run in due(item, last)]
    return events
