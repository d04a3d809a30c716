"""Forms of a date crossed with the words around it, in six languages: what each phrase must mean.

The phrases are made here, the days they mean are reckoned with datetime alone. What the words mean:
Cataloging Cultural Objects (2006), p. 168, and the UC San Diego visual-resources date guide, as in
test_measure_dates.py; the words of the languages are common practice, no source.
"""

from __future__ import annotations

import calendar
import datetime
import itertools

import pytest

from catalogue.measure import read_date, read_edtf, why_not

CIRCA = 5

# What one writes for a point in time, with its first and last day. The same seven in every language.
DAYS = {
    "day": ("1903-04-12", "1903-04-12"),
    "month": ("1903-04-01", "1903-04-30"),
    "season": ("1903-03-01", "1903-05-31"),
    "year": ("1903-01-01", "1903-12-31"),
    "decade": ("1880-01-01", "1889-12-31"),
    "century": ("1700-01-01", "1799-12-31"),
    "early": ("1700-01-01", "1725-12-31"),
    "late": ("1775-01-01", "1799-12-31"),
    "half": ("1750-01-01", "1799-12-31"),
    "quarter": ("1700-01-01", "1724-12-31"),
}
LANGUAGES = {
    "English": {
        "day": "12 April 1903|April 12, 1903|12 Apr. 1903|the 12th of April, 1903|12 iv 1903", "month": "April 1903|Apr. 1903", "season": "spring 1903|the spring of 1903",
        "year": "1903", "decade": "1880s|the 1880's", "century": "18th century|eighteenth century|18th c.", "early": "early 18th century|beginning of the 18th century",
        "late": "late 18th century|end of the 18th c.", "half": "second half of the 18th century|2nd half 18th century", "quarter": "first quarter of the 18th century|1st quarter 18th cent.",
        "circa": "c. {}|ca. {}|circa {}|about {}|{} ca.", "before": "before {}|prior to {}", "after": "after {}|later than {}", "until": "by {}|not after {}|{} or earlier", "since": "not before {}|{} or later|since {}",
        "probably": "probably {}|possibly {}|{} (?)|{}?", "made": "painted {}|dated {}|signed and dated {}", "in": "in {}", "between": "between {} and {}", "to": "{}-{}|{} \u2013 {}|{} to {}|from {} to {}", "or": "{} or {}",
        "born": "b. {}|born {}", "died": "d. {}|died {}", "active": "active {}|fl. {}", "bc": "{} BC|{} B.C.|{} BCE", "undated": "n.d.|undated|no date",
    },
    "German": {
        "day": "12. April 1903|den 12. April 1903|12. Apr. 1903|12.4.1903|12.IV.1903", "month": "April 1903|im April 1903", "season": "Frühjahr 1903|Frühling 1903",
        "year": "1903", "decade": "1880er Jahre|die 1880er", "century": "18. Jahrhundert|18. Jh.|XVIII. Jh.", "early": "Anfang 18. Jh.|Anfang des 18. Jahrhunderts",
        "late": "Ende 18. Jh.|spätes 18. Jahrhundert", "half": "2. Hälfte 18. Jh.|zweite Hälfte des 18. Jahrhunderts", "quarter": "1. Viertel 18. Jh.|erstes Viertel des 18. Jahrhunderts",
        "circa": "um {}|ca. {}|gegen {}|etwa {}", "before": "vor {}", "after": "nach {}", "until": "bis {}|spätestens {}|nicht nach {}", "since": "ab {}|{} oder später|nicht vor {}",
        "probably": "wohl {}|vermutlich {}|wahrscheinlich {}", "made": "gemalt {}|datiert {}|signiert und datiert {}", "in": "im Jahre {}", "between": "zwischen {} und {}", "to": "{} bis {}|von {} bis {}|{}-{}", "or": "{} oder {}",
        "born": "geb. {}|geboren {}|* {}", "died": "gest. {}|† {}", "active": "tätig {}", "bc": "{} v. Chr.", "undated": "o.J.|o. J.|undatiert|ohne Jahr",
    },
    "French": {
        "day": "12 avril 1903|le 12 avril 1903|12 avr. 1903", "month": "avril 1903|en avril 1903", "season": "printemps 1903",
        "year": "1903", "decade": "années 1880|les années 1880", "century": "XVIIIe siècle|18e siècle|XVIIIe s.", "early": "début XVIIIe siècle|début du XVIIIe siècle",
        "late": "fin XVIIIe siècle|fin du XVIIIe s.", "half": "2e moitié du XVIIIe siècle|seconde moitié du XVIIIe siècle", "quarter": "1er quart du XVIIIe siècle|premier quart du XVIIIe siècle",
        "circa": "vers {}|env. {}|environ {}", "before": "avant {}", "after": "après {}", "until": "jusqu'en {}|pas après {}|au plus tard en {}", "since": "à partir de {}|dès {}|{} ou plus tard",
        "probably": "probablement {}|sans doute {}|peut-être {}", "made": "peint en {}|daté {}|signé et daté {}", "in": "en {}", "between": "entre {} et {}", "to": "de {} à {}|{} à {}|{}-{}", "or": "{} ou {}",
        "born": "né en {}|né {}", "died": "mort en {}", "active": "actif {}", "bc": "{} av. J.-C.", "undated": "s.d.|sans date|non daté",
    },
    "Italian": {
        "day": "12 aprile 1903|il 12 aprile 1903", "month": "aprile 1903", "season": "primavera 1903",
        "year": "1903", "decade": "anni 1880|gli anni 1880", "century": "XVIII secolo|sec. XVIII|Settecento", "early": "inizio XVIII secolo|inizi del XVIII secolo",
        "late": "fine XVIII secolo|fine del Settecento", "half": "seconda metà del XVIII secolo|II metà XVIII sec.", "quarter": "primo quarto del XVIII secolo",
        "circa": "circa {}|{} circa|verso il {}|intorno al {}", "before": "prima del {}", "after": "dopo il {}", "until": "entro il {}|fino al {}", "since": "a partire dal {}|{} o dopo",
        "probably": "probabilmente {}|forse {}", "made": "dipinto nel {}|datato {}|firmato e datato {}", "in": "nel {}", "between": "tra il {} e il {}|fra {} e {}", "to": "dal {} al {}|{}-{}", "or": "{} o {}",
        "born": "nato nel {}", "died": "morto nel {}", "active": "attivo {}", "bc": "{} a.C.", "undated": "senza data|non datato",
    },
    "Dutch": {
        "day": "12 april 1903|zondag 12 april 1903", "month": "april 1903", "season": "voorjaar 1903|lente 1903",
        "year": "1903", "decade": "jaren 1880|de jaren 1880", "century": "18e eeuw|18de eeuw|achttiende eeuw", "early": "begin 18e eeuw|begin van de 18de eeuw",
        "late": "eind 18e eeuw|einde van de 18e eeuw", "half": "tweede helft 18e eeuw|2e helft van de 18e eeuw", "quarter": "eerste kwart 18e eeuw",
        "circa": "omstreeks {}|rond {}|ca. {}", "before": "voor {}|vóór {}", "after": "na {}", "until": "uiterlijk {}|niet later dan {}", "since": "vanaf {}|{} of later",
        "probably": "waarschijnlijk {}|vermoedelijk {}", "made": "geschilderd {}|gedateerd {}", "in": "in {}", "between": "tussen {} en {}", "to": "van {} tot {}|{}-{}", "or": "{} of {}",
        "born": "geboren {}|geb. {}", "died": "overleden {}|gest. {}", "active": "werkzaam {}", "bc": "{} v.C.", "undated": "z.j.|ongedateerd",
    },
    "Spanish": {
        "day": "12 de abril de 1903|12 abril 1903", "month": "abril de 1903|abril 1903", "season": "primavera de 1903",
        "year": "1903", "decade": "años 1880|década de 1880", "century": "siglo XVIII|s. XVIII", "early": "principios del siglo XVIII|a principios del s. XVIII",
        "late": "finales del siglo XVIII|a finales del siglo XVIII", "half": "segunda mitad del siglo XVIII", "quarter": "primer cuarto del siglo XVIII",
        "circa": "hacia {}|ca. {}|alrededor de {}", "before": "antes de {}", "after": "después de {}", "until": "hasta {}", "since": "desde {}|a partir de {}",
        "probably": "probablemente {}|posiblemente {}", "made": "pintado en {}|fechado {}|firmado y fechado {}", "in": "en {}", "between": "entre {} y {}", "to": "de {} a {}|{}-{}", "or": "{} o {}",
        "born": "nacido {}", "died": "muerto {}", "active": "activo {}", "bc": "{} a.C.", "undated": "s.f.|sin fecha",
    },
}  # fmt: skip
POINTS = tuple(DAYS)


def day(iso):
    return datetime.date.fromisoformat(iso)


def years_on(iso, years):
    return day(iso).replace(year=day(iso).year + years).isoformat()


def about(form):
    """Five years either way; a month where it is finer than a year."""
    first, last = DAYS[form]
    if form not in ("day", "month", "season"):
        return years_on(first, -CIRCA), years_on(last, CIRCA)
    first, last = day(first), day(last)
    first = first.replace(day=1) - datetime.timedelta(days=1)
    last = (last.replace(day=28) + datetime.timedelta(days=7)).replace(day=1)
    end = calendar.monthrange(last.year, last.month)[1]
    return first.replace(day=1).isoformat(), last.replace(day=end).isoformat()


def beside(iso, step):
    return (day(iso) + datetime.timedelta(days=step)).isoformat()


WORDS = {
    "in": lambda form: DAYS[form],
    "made": lambda form: DAYS[form],
    "probably": lambda form: DAYS[form],
    "circa": about,
    "before": lambda form: (None, beside(DAYS[form][0], -1)),
    "after": lambda form: (beside(DAYS[form][1], 1), None),
    "until": lambda form: (None, DAYS[form][1]),
    "since": lambda form: (DAYS[form][0], None),
}
LIVES = {
    "born": lambda form: (DAYS[form][0], None),
    "died": lambda form: (None, DAYS[form][1]),
    "active": lambda form: DAYS[form],
}


def phrases(language, words, forms):
    """Every wording of the language for the word, around every wording of each form."""
    for form in forms:
        for wording, point in itertools.product(
            LANGUAGES[language][words].split("|"), LANGUAGES[language][form].split("|")
        ):
            yield form, wording.format(point)


def meant(phrase):
    span = read_date(phrase)
    if span is None:
        return why_not(phrase)
    return tuple(day.iso if day else None for day in (span.earliest, span.latest))


def check(expected):
    wrong = {
        phrase: (meant(phrase), days) for phrase, days in expected if meant(phrase) != days
    }
    assert not wrong


@pytest.mark.parametrize("form", POINTS)
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_point_alone(language, form):
    check((phrase, DAYS[form]) for phrase in LANGUAGES[language][form].split("|"))


@pytest.mark.parametrize("words", WORDS)
@pytest.mark.parametrize("language", LANGUAGES)
def test_a_point_with_words_around_it(language, words):
    check((phrase, WORDS[words](form)) for form, phrase in phrases(language, words, POINTS))


@pytest.mark.parametrize("words", LIVES)
@pytest.mark.parametrize("language", LANGUAGES)
def test_lives(language, words):
    check(
        (phrase, LIVES[words](form))
        for form, phrase in phrases(language, words, ("year", "day"))
    )


@pytest.mark.parametrize("words", ["to", "between", "or"])
@pytest.mark.parametrize("language", LANGUAGES)
def test_two_points(language, words):
    """From any point to the year 1911: whatever is finer or coarser, each end keeps its own days."""
    check(
        (wording.format(point, "1911"), (DAYS[form][0], "1911-12-31"))
        for form in ("day", "month", "season", "year", "decade", "century")
        for wording in LANGUAGES[language][words].split("|")
        for point in LANGUAGES[language][form].split("|")
        if not (wording == "{}-{}" and form == "day")
    )


@pytest.mark.parametrize("language", LANGUAGES)
def test_before_our_era(language):
    for wording in LANGUAGES[language]["bc"].split("|"):
        assert meant(wording.format(100)) == ("-0099-01-01", "-0099-12-31")
        assert meant(wording.format("300-200")) == ("-0299-01-01", "-0199-12-31")


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_date_is_said_to_be_none(language):
    for phrase in LANGUAGES[language]["undated"].split("|"):
        assert meant(phrase) == "it says that it has no date"


def every_phrase():
    for language, (words, forms) in itertools.product(
        LANGUAGES, [(words, POINTS) for words in WORDS] + [(words, ("year", "day")) for words in LIVES]
    ):  # fmt: skip
        yield from (phrase for _, phrase in phrases(language, words, forms))


def test_there_are_many_and_each_has_edtf_of_the_same_days():
    bank = set(every_phrase())
    assert len(bank) > 1500
    for phrase in bank:
        span = read_date(phrase, circa=0)
        if span is not None:
            again = read_edtf(span.edtf, circa=0)
            assert (again.earliest, again.latest) == (span.earliest, span.latest), phrase
