"""Coaches and clients: who lets whom see what, what a coach passes on, and what nobody is told."""

from __future__ import annotations

import re

import pytest

from .chat import Chat, Door, Said

NO_GOOD = "used, expired or mistyped"


def code_of(said: Said) -> str:
    found = re.search(r"/start ([\w-]{22})", said.text)
    assert found is not None, said
    return found[1]


def person(door: Door, name: str, **settings: str) -> Chat:
    return Chat(door, name, **({"region": "metric"} | settings))


def guides(coach: Chat, client: Chat, called: str) -> None:
    """The client has said yes to the coach."""
    code = code_of(coach.say(f"invite {called}"))
    assert client.say(f"/start {code}").one("question")["about"] == "coaching"
    client.say("yes").one("coaching_agreed")


@pytest.fixture
def ines(door: Door) -> Chat:
    return person(door, "Ines")


@pytest.fixture
def ana(door: Door, ines: Chat) -> Chat:
    client = person(door, "Ana")
    guides(ines, client, "Ana")
    return client


def told(said: Said, who: str) -> str:
    """What somebody else was told because of it."""
    return "\n".join(text for to, text in said.others if to == who)


def test_a_client_is_shown_who_asks_and_what_will_be_seen(door: Door, ines: Chat) -> None:
    code = code_of(ines.say("invite Ana"))
    ana = person(door, "Ana")
    asked = ana.say(f"/start {code}")
    assert asked.choices == ("yes, show my sheets", "no")
    for word in ("Ines", "weigh-ins", "body weights", "target", "end coaching with Ines"):
        assert word in asked.text
    assert "roster" in told(ana.say("yes"), "Ines")


def test_nothing_is_seen_before_the_yes_nor_after_a_no(door: Door, ines: Chat) -> None:
    ana = person(door, "Ana")
    ana.given("321 g banana")
    code = code_of(ines.say("invite Ana"))
    ana.say(f"code: {code}")
    assert ines.say("roster").one("roster")["clients"] == []
    ines.say("Ana's day").refused("no clients")
    assert "declined" in told(ana.say("no"), "Ines")
    ines.say("how is Ana?")
    assert all("321" not in said.text for said in ines.heard)
    assert NO_GOOD in ana.say(f"code: {code}").text


@pytest.mark.parametrize("how", ("guessed", "used", "taken", "expired"))
def test_codes_that_are_no_good_are_answered_alike(door: Door, ines: Chat, how: str) -> None:
    ana, eve = person(door, "Ana"), person(door, "Eve")
    eve.say("/start")
    code = code_of(ines.say("invite Ana"))
    at = "2026-03-02T14:00:00+00:00"
    if how == "guessed":
        code = code[:-1] + ("A" if code[-1] != "A" else "B")
    elif how == "expired":
        at = "2026-03-09T12:30:00+00:00"
    else:
        ana.say(f"/start {code}")
        if how == "used":
            ana.say("yes")
    said = eve.say(f"/start {code}", at=at)
    assert said.text == "That code is used, expired or mistyped, so nothing was changed. Please ask for a new one."
    assert said.one("refused")["why"] == "bad_code"
    assert said.others == ()


def test_a_consent_that_comes_too_late_begins_nothing(door: Door, ines: Chat) -> None:
    ana = person(door, "Ana")
    ana.say(f"/start {code_of(ines.say('invite Ana'))}").one("question")
    ana.say("yes", at="2026-03-10T12:00:00+00:00").refused("is no longer valid")
    assert ines.say("roster", at="2026-03-10T12:00:00+00:00").one("roster")["clients"] == []


def test_nobody_coaches_themself(ines: Chat) -> None:
    said = ines.say(f"/start {code_of(ines.say('invite Ana'))}")
    assert "invitation of your own" in said.text
    assert ines.say("roster").one("roster")["clients"] == []


def test_the_command_leads_everybody_to_what_is_theirs(door: Door, ines: Chat, ana: Chat) -> None:
    assert "Nothing pressing: Ana." in ines.say("/coach").text
    assert "Ines has been your coach" in ana.say("/coach").text
    omar = person(door, "Omar")
    for _ in range(2):
        said = omar.say("/coach")
        assert "You have no clients yet. To invite someone" in said.text
        assert "/start " not in said.text


@pytest.mark.parametrize("side", ("coach", "client"))
def test_either_side_ends_it_at_once_and_both_are_told(ines: Chat, ana: Chat, side: str) -> None:
    ana.given("321 g banana")
    assert "321 g" in ines.say("Ana's day").text
    if side == "coach":
        assert "can't see your records any more" in told(ines.say("stop coaching Ana"), "Ana")
    else:
        assert "you can't see their records any more" in told(ana.say("end coaching with Ines"), "Ines")
    for text in ("Ana's day", "Ana's week", "how is Ana?", "target for Ana 2100 kcal", "tell Ana: hello"):
        said = ines.say(text)
        assert said.others == ()
        assert "321" not in said.text
        assert not said.records
    assert ines.say("roster").one("roster")["clients"] == []
    assert "You have no coach" in ana.say("who sees my data?").text


def test_several_coaches_and_several_clients_and_coaches_log_too(door: Door, ines: Chat, ana: Chat) -> None:
    omar, ben = person(door, "Omar"), person(door, "Ben")
    guides(omar, ana, "A. from the gym")
    guides(ines, ben, "Ben")
    guides(ana, ben, "Ben")
    assert ines.say("200 g banana").recorded()["who"] == "Ines"
    assert [row["client"] for row in ines.say("roster").one("roster")["clients"]] == ["Ana", "Ben"]
    assert [row["client"] for row in omar.say("roster").one("roster")["clients"]] == ["A. from the gym"]
    who = ana.say("who is my coach?").text
    assert "Ines has been your coach" in who
    assert "Omar has been your coach" in who
    assert "Ben" not in who
    asked = ana.say("reply: I am ill this week")
    assert asked.choices == ("Ines", "Omar")
    assert "A. from the gym says: I am ill this week" in told(ana.say("Omar"), "Omar")


def eats(client: Chat, days: range, *said: str, month: int = 3) -> None:
    """The client says the same at noon of each of those days."""
    for day in days:
        for n, words in enumerate(said):
            client.say(words, at=f"2026-{month:02d}-{day:02d}T12:{n:02d}:00+00:00")


def test_who_needs_the_coach_most_stands_first_with_the_reason(door: Door, ines: Chat, ana: Chat) -> None:
    ben, cem, dora = (person(door, name) for name in ("Ben", "Cem", "Dora"))
    for client in (ben, cem, dora):
        guides(ines, client, client.who)
    # SR28 20037 and 20045, white rice cooked: 130 kcal and 2.69 g of protein in 100 g
    for client in (ana, ben, cem):
        client.given("target 1500 kcal protein 30")
    eats(ana, range(3, 7), "1150 g cooked white rice")
    eats(ben, range(3, 5), "1150 g cooked white rice")
    eats(cem, range(3, 7), "1600 g cooked white rice")
    eats(dora, range(3, 7), "1150 g cooked white rice")
    said = ines.say("roster", at="2026-03-07T10:00:00+00:00")
    rows = said.one("roster")["clients"]
    assert [row["client"] for row in rows] == ["Ben", "Cem", "Dora", "Ana"]
    assert rows[0]["why"] == "silent for 3 days"
    # 16 × 130 = 2,080 kcal against 1,500
    assert rows[1]["why"] == "580 kcal a day over target for 3 days"
    assert rows[2]["why"] == "no target is set"
    assert rows[3]["why"] == "nothing pressing"
    assert said.text.splitlines()[0] == "3 of 4 could use a word; 0 logged today."
    assert said.text.splitlines()[-1] == "Nothing pressing: Ana."
    logged = ines.say("who logged today?").text
    assert "nobody yet" in logged
    assert "Not yet: Ana, Ben, Cem and Dora" in logged


def test_filters_keep_those_who_were_asked_for(door: Door, ines: Chat, ana: Chat) -> None:
    ben = person(door, "Ben")
    guides(ines, ben, "Ben")
    for client in (ana, ben):
        client.given("target 1500 kcal protein 30")
    eats(ana, range(3, 7), "1600 g cooked white rice")
    eats(ben, range(3, 7), "700 g cooked white rice")
    at = "2026-03-07T10:00:00+00:00"

    def named(text: str) -> list[str]:
        return [row["client"] for row in ines.say(text, at=at).one("roster")["clients"]]

    assert named("who is over") == ["Ana"]
    assert named("who is under") == ["Ben"]
    assert named("who is silent") == []
    assert named("who is new") == ["Ben", "Ana"]
    assert set(named("who weighs least")) == {"Ana", "Ben"}
    ben.say("pause until 12 March", at=at)
    assert named("who is paused") == ["Ben"]
    assert "paused until Thursday 12 March" in ines.say("who is paused", at=at).text
    assert ines.say("Ben's day", at=at).one("client_sheet")["client"] == "Ben"


def test_history_is_the_clients_and_bears_the_name(ines: Chat, ana: Chat) -> None:
    eats(ana, range(3, 6), "200 g raw banana")
    eats(ana, range(10, 14), "400 g raw banana")
    ines.say("500 g cooked rice", at="2026-03-13T13:00:00+00:00")
    at = "2026-03-14T10:00:00+00:00"
    for text in (
        "Ana's last 4 weeks",
        "compare Ana's week with last week",
        "how much banana does Ana eat?",
        "Ana's weight",
    ):
        said = ines.say(text, at=at)
        assert said.text.startswith("Ana"), said
        assert "rice" not in said.text
    weeks = ines.say("Ana's last 4 weeks", at=at).text
    assert "7 of 28 days logged" in weeks
    compared = ines.say("compare Ana's week with last week", at=at).text
    # SR28 09040, banana raw: 89 kcal in 100 g
    assert "8 March to 14 March: 4 days logged, 356 kcal" in compared
    assert "1 March to 7 March: 3 days logged, 178 kcal" in compared
    assert "Difference: +178 kcal" in compared
    assert "7 times on 7 of 28 days, 2,200 g" in ines.say("how much banana does Ana eat?", at=at).text
    assert ines.say("Ana's Tuesday", at=at).one("client_sheet")["kcal"] == pytest.approx(356)


def test_a_comment_says_what_it_is_about(ines: Chat, ana: Chat) -> None:
    ana.given("lunch 200 g raw banana", "dinner 300 g cooked white rice")
    came = told(ines.say("comment on Ana's lunch: looks small"), "Ana")
    assert came.startswith("Ines, your coach, on your lunch today (#1 banana): looks small")
    came = told(ines.say("comment on Ana's #2: well weighed"), "Ana")
    assert came.startswith("Ines, your coach, on your #2 white rice, 300 g, today: well weighed")
    ines.say("comment on Ana's breakfast: why none?").refused("no breakfast on record today")
    ines.say("comment on Ana's #9: what is it?").refused("no #9 on record")


def test_private_notes_and_flags_are_the_coachs_alone(door: Door, ines: Chat, ana: Chat) -> None:
    omar = person(door, "Omar")
    guides(omar, ana, "Ana")
    for text in ("private note on Ana: shy of scales", "flag Ana: call her"):
        assert ines.say(text).others == ()
    notes = ines.say("my notes about Ana").text
    assert "shy of scales" in notes
    assert "Flagged: call her" in notes
    assert ines.say("roster").text.splitlines()[1] == "Ana: flagged: call her."
    for who, texts in (
        (omar, ("my notes about Ana", "roster", "how is Ana?")),
        (ana, ("/privacy", "/export", "today")),
    ):
        for text in texts:
            said = who.say(text)
            assert "shy" not in said.text
            assert "call her" not in said.text
    ines.say("stop coaching Ana")
    guides(ines, ana, "Ana")
    assert "no notes about Ana" in ines.say("my notes about Ana").text


def test_a_group_is_listed_and_written_to(door: Door, ines: Chat, ana: Chat) -> None:
    ben = person(door, "Ben")
    guides(ines, ben, "Ben")
    ines.say("put Ana in group runners")
    assert [row["client"] for row in ines.say("group runners").one("roster")["clients"]] == ["Ana"]
    said = ines.say("tell group runners: we start at nine")
    assert [who for who, _ in said.others] == ["Ana"]
    ines.say("take Ana out of group runners")
    ines.say("group runners").refused("no group called runners")


def test_a_message_to_many_is_asked_about_once_more(door: Door, ines: Chat) -> None:
    clients = [person(door, f"Client {letter}") for letter in "ABCDEFGHIJK"]
    for client in clients:
        guides(ines, client, client.who)
    asked = ines.say("tell everyone: closed on Monday")
    assert asked.others == ()
    assert "11 clients" in asked.text
    sent = ines.say("ok")
    assert {who for who, _ in sent.others} == {client.who for client in clients}
    ines.say("tell everyone: closed on Tuesday").one("question")
    ines.say("200 g banana")
    assert ines.say("yes").others == ()


def test_parts_of_the_consent_are_withdrawn_and_given_again(ines: Chat, ana: Chat) -> None:
    ana.given("I weigh 82.4 kg", "lunch 300 g cooked white rice")
    assert "does not share body weight" in told(ana.say("hide my weight from Ines"), "Ines")
    for text in ("Ana's week", "Ana's weight", "Ana's last 4 weeks", "compare Ana's week with last week"):
        assert "82.4" not in ines.say(text).text
    assert "but no body weight" in ana.say("who sees my data?").text
    ana.say("Ines may see my weight again")
    assert "82.4 kg" in ines.say("Ana's weight").text
    ana.say("hide my calories from Ines")
    for text in (
        "Ana's day",
        "Ana's week",
        "Ana's last 4 weeks",
        "how is Ana?",
        "roster",
        "how much rice does Ana eat?",
    ):
        said = ines.say(text)
        assert "390" not in said.text
        assert all(row["kcal"] is None for event in said.all("roster") for row in event["clients"])
        assert not said.all("client_sheet")
    assert "white rice, 300 g" in ines.say("Ana's day").text
    ana.say("no comments from Ines")
    assert ines.say("comment on Ana's lunch: hm").others == ()
    assert "no body weight" not in ana.say("who sees my data?").text
    assert "energy" in ana.say("who sees my data?").text


@pytest.mark.parametrize("yes", ("ok", "OK!", "sure", "yes please", "go ahead"))
def test_people_say_yes_in_many_ways(door: Door, ines: Chat, yes: str) -> None:
    ana = person(door, "Ana")
    ana.say(f"/start {code_of(ines.say('invite Ana'))}")
    ana.say(yes).one("coaching_agreed")


@pytest.mark.parametrize("side", ("coach", "client"))
def test_a_pause_rests_reminders_and_leaves_its_days_out(ines: Chat, ana: Chat, side: str) -> None:
    ana.given("200 g raw banana")
    at = "2026-03-03T09:00:00+00:00"
    if side == "coach":
        assert "Paused until Sunday 8 March" in told(ines.say("pause Ana until Sunday", at=at), "Ana")
    else:
        assert "pauses until Sunday 8 March" in told(ana.say("I'm on holiday until Sunday", at=at), "Ines")
    came = ana.door.step(advance_to="2026-03-08T23:00:00+00:00")
    assert "Nothing is on record for today" not in came.text
    said = ines.say("roster", at="2026-03-09T09:00:00+00:00")
    assert said.one("roster")["clients"][0]["why"] == "nothing pressing"
    assert "6 days of a pause left out" in ana.say("week", at="2026-03-09T09:01:00+00:00").text
    assert "Nothing is on record for today" in ana.door.step(advance_to="2026-03-09T23:00:00+00:00").text
    ana.say("resume", at="2026-03-10T09:00:00+00:00").refused("not paused")


def test_the_means_are_over_the_days_logged(ines: Chat, ana: Chat) -> None:
    ana.say("200 g raw banana", at="2026-03-03T12:00:00+00:00")
    ana.say("400 g raw banana", at="2026-03-05T12:00:00+00:00")
    (row,) = ines.say("how is Ana?", at="2026-03-06T10:00:00+00:00").one("roster")["clients"]
    # SR28 09040, banana raw: 89 kcal and 1.09 g of protein in 100 g
    assert row["days"] == 2
    assert row["kcal"] == pytest.approx(267, abs=0.01)
    assert row["protein_g"] == pytest.approx(3.27, abs=0.01)


def test_a_clients_week_comes_with_its_picture_and_leaves_nothing_in_her_books(ines: Chat, ana: Chat) -> None:
    ana.given("300 g cooked pasta", "I weigh 82.4 kg")
    said = ines.say("Ana's week")
    assert said.one("client_sheet")["client"] == "Ana"
    assert "82.4 kg" in said.text
    assert ines.say("week of Ana").one("client_sheet")["span"] == "week"
    assert ines.say("today").one("sheet")["kcal"] == 0
    assert ana.say("undo").one("fact_undone")["what"] == "body_weight"


def test_a_target_is_set_in_the_clients_turn_and_undo_restores(ines: Chat, ana: Chat) -> None:
    ana.given("target 1900")
    sent = ines.say("target for Ana 2100 kcal protein 160")
    assert sent.one("target_set") == {
        "type": "target_set", "kcal": 2100, "protein_g": 160, "fat_g": None, "carbohydrate_g": None,
    }  # fmt: skip
    assert told(sent, "Ana").startswith(
        "Ines, your coach, has set your target.\nTarget from today on: 2,100 kcal, protein 160 g"
    )
    assert "No target" in ines.say("my target").text
    undone = ana.say("undo")
    assert "objected" in told(undone, "Ines")
    assert "1,900 kcal" in ana.say("my target").text


def test_a_client_can_object_later_too(ines: Chat, ana: Chat) -> None:
    ana.given("target 1900")
    ines.say("set Ana's target to 2100")
    ana.given("200 g banana")
    said = ana.say("object")
    assert "Ana objected" in told(said, "Ines")
    assert "1,900 kcal" in said.text
    ana.say("object").refused("not set by a coach")
    assert ana.weigh_ins_today() == 1


def test_a_target_from_a_later_day_on_begins_then_and_can_be_objected_to(ines: Chat, ana: Chat) -> None:
    ana.given("target 1900")
    sent = ines.say("target for Ana from Wednesday on 2100 kcal")
    assert sent.one("target_set")["from"] == "2026-03-04"
    assert "1,900 kcal" in ana.say("my target").text
    assert "Ana objected" in told(ana.say("object"), "Ines")
    assert "2,100" not in ana.say("my target").text


def test_a_very_low_target_needs_the_coachs_second_yes(ines: Chat, ana: Chat) -> None:
    asked = ines.say("target for Ana 900")
    assert "doctor or dietitian" in asked.text
    assert asked.others == ()
    ines.say("no")
    assert "No target" in ana.say("my target").text
    ines.say("target for Ana 900")
    set_ = ines.say("yes")
    assert set_.one("target_set")["kcal"] == 900
    assert "doctor or dietitian" in told(set_, "Ana")


def test_a_note_is_passed_on_and_its_answer_comes_back(ines: Chat, ana: Chat) -> None:
    assert "Ines, your coach: weigh the oats dry" in told(ines.say("tell Ana to weigh the oats dry"), "Ana")
    assert "Ana says: 40 g, dry" in told(ana.say("reply: 40 g, dry"), "Ines")
    assert "Ana says: on holiday" in told(ana.say("tell my coach: on holiday"), "Ines")
    assert ana.weigh_ins_today() == 0


def test_a_label_and_a_measure_are_shared(door: Door, ines: Chat, ana: Chat) -> None:
    ben = person(door, "Ben")
    guides(ines, ben, "Ben")
    ines.given("label granola: serving 45 g, 190 kcal, fat 6, carbs 25, protein 9", "my scoop of whey is 31 g")
    ben.given("label granola: serving 40 g, 176 kcal, fat 7, carbs 22, protein 5")
    shared = ines.say("share label granola with everyone")
    assert len(shared.all("label_saved")) == 1
    assert "Which one should count?" in told(shared, "Ben")
    ben.say("keep mine")
    assert ana.say("45 g granola").recorded()["kcal"] == pytest.approx(190)
    assert ben.say("40 g granola").recorded()["kcal"] == pytest.approx(176)
    ines.say("share my granola label with Ben")
    ben.press(1)
    assert ben.say("45 g granola").recorded()["kcal"] == pytest.approx(190)
    ines.say("share my scoop of whey measure with Ana").one("measure_saved")
    assert ana.say("2 scoops of whey").one("weigh_in")["as_weighed_g"] == 62
    ines.say("share label muesli with Ana").refused("no label called muesli", "granola")


@pytest.mark.parametrize("answer", ("182 g", "182", "it was 182 g", "apple 182 g"))
def test_something_is_weighed_again_and_the_coach_hears_of_it(ines: Chat, ana: Chat, answer: str) -> None:
    ana.given("apple 190 g", "200 g banana")
    asked = ines.say("ask Ana to re-weigh the apple")
    assert "#1, 190 g, today" in told(asked, "Ana")
    assert ana.day()["waiting"] == 1
    said = ana.say(answer)
    assert said.changed()["as_weighed_g"] == 182
    assert told(said, "Ines") == "Ana has weighed the apple again: 182 g (was 190 g)."
    assert ana.day()["waiting"] == 0
    assert ana.weigh_ins_today() == 2


def test_other_answers_to_weigh_it_again(ines: Chat, ana: Chat) -> None:
    ana.given("apple 190 g")
    ines.say("ask Ana to weigh #1 again")
    assert "no zorblax on record" in ines.say("ask Ana to re-weigh the zorblax").text
    assert "no weigh-in #7" in ines.say("ask Ana to weigh #7 again").text
    assert "too much" in ana.say("9000 g").text
    assert "can't weigh it any more" in told(ana.say("can't any more"), "Ines")
    ines.say("ask Ana to re-weigh #1")
    assert "correct" in told(ana.press(1), "Ines")
    ines.say("ask Ana to re-weigh the banana")
    assert ana.say("120 g").recorded()["food"] == "banana"


def test_what_a_coach_asked_is_closed_with_the_coaching(ines: Chat, ana: Chat) -> None:
    ana.given("apple 190 g")
    ines.say("ask Ana to re-weigh the apple")
    ines.say("stop coaching Ana")
    assert ana.day()["waiting"] == 0
    said = ana.say("182 g")
    assert said.others == ()
    assert not said.records


def test_a_coach_sees_no_question_that_is_between_the_client_and_others(door: Door, ines: Chat, ana: Chat) -> None:
    omar, ben = person(door, "Omar"), person(door, "Ben")
    ana.say(f"/start {code_of(omar.say('invite Ana'))}").one("question")
    guides(ana, ben, "Ben")
    ana.say("target for Ben 900").one("question")
    (row,) = ines.say("how is Ana?").one("roster")["clients"]
    assert row["waiting"] == 0
    for text in ("Ana's day", "Ana's week"):
        said = ines.say(text)
        assert said.one("client_sheet")["waiting"] == 0
        assert "Omar" not in said.text
        assert "Ben" not in said.text


@pytest.mark.parametrize(
    "text",
    (
        "how is Eve?", "Eve's week", "what did Eve eat today?", "target for Eve 2100", "tell Eve: hello",
        "ask Eve to weigh #1 again", "share my granola label with Eve",
    ),
)  # fmt: skip
def test_whoever_is_no_client_might_as_well_not_exist(door: Door, ines: Chat, ana: Chat, text: str) -> None:
    never = ines.say(text.replace("Eve", "Ida")).text
    eve = person(door, "Eve")
    eve.given("321 g banana", "target 1800")
    said = ines.say(text)
    assert said.others == ()
    assert said.text == never.replace("Ida", "Eve") == "You have no client called Eve. Your client is Ana."


def test_two_clients_of_one_name_are_asked_about(door: Door, ines: Chat) -> None:
    one, other = person(door, "Ana Berg"), person(door, "Ana Cole")
    guides(ines, one, "Ana Berg")
    guides(ines, other, "Ana Cole")
    asked = ines.say("target for Ana 2100")
    assert asked.choices == ("Ana Berg", "Ana Cole")
    assert "2,100" in told(ines.say("2"), "Ana Cole")
    ines.say("invite ana berg").refused("have a client called")


@pytest.mark.parametrize(
    "text", ("tell Ana: weigh the oats dry", "target for Ana 2100", "share my granola label with Ana", "Ana's week")
)
def test_without_clients_a_coachs_words_are_answered_sensibly(chat: Chat, text: str) -> None:
    assert "invite" in chat.say(text).refused("no clients")
    assert "No target" in chat.say("my target").text


def test_an_edit_of_a_clients_message_is_seen_and_undo_as_well(ines: Chat, ana: Chat) -> None:
    ana.say("200 g banana", ref=1)
    ana.edit(1, "250 g banana")
    assert "250 g" in ines.say("Ana's day").text
    ana.say("undo")
    assert "200 g" in ines.say("Ana's day").text


@pytest.mark.parametrize(
    "text",
    ("1 more for Luis", "Good morning. I would like to take up Joost as client; please give me the code for him."),
)
def test_the_next_person_is_invited_in_few_words_or_beside_a_greeting(chat: Chat, text: str) -> None:
    chat.say("new client Tasha starts today, need a join code").one("invited")
    chat.say(text).one("invited")


@pytest.mark.parametrize(
    "asked",
    (
        "any message from Ines?",
        "what did my coach write",
        "did Ines leave me a note, I was on the bus",
        "and what has ines sent me?",
        "what was Ines's verdict about the lentils?",
    ),
)
def test_a_client_reads_again_what_the_coach_wrote(ines: Chat, ana: Chat, asked: str) -> None:
    ines.say("tell Ana: soak the lentils first")
    assert "soak the lentils first" in ana.say(asked).nothing("Ines")


@pytest.mark.parametrize(
    "asked", ("what should I say to my coach?", "does Ines see my messages?", "tell Ines I said hi")
)
def test_other_words_about_the_coach_show_no_notes(ines: Chat, ana: Chat, asked: str) -> None:
    ines.say("tell Ana: soak the lentils first")
    assert "soak the lentils" not in ana.say(asked).text


def test_what_a_former_coach_wrote_is_not_shown(ines: Chat, ana: Chat) -> None:
    ines.say("tell Ana: soak the lentils first")
    ana.given("end coaching with Ines")
    ana.say("yes")
    assert "soak the lentils" not in ana.say("any message from Ines?").text


@pytest.mark.parametrize(
    ("said", "words"),
    (
        ("pass this on to Ana from me would you: fine lunch, 100 g tuna is the thing", "fine lunch"),
        ("let Ana know I'm away, 60 g of oats is ok", "60 g of oats is ok"),
        ("tell Ana 200 g rice is fine", "200 g rice is fine"),
        ("ask Ana, would you eat 200 g rice at night", "would you eat 200 g rice at night"),
    ),
)
def test_words_for_a_client_never_land_on_the_coachs_record(ines: Chat, ana: Chat, said: str, words: str) -> None:
    sent = ines.say(said)
    assert words in told(sent, "Ana")
    assert "weigh_in" not in sent.kinds
    assert "weigh_in_open" not in sent.kinds


def test_words_for_the_coach_never_land_on_the_clients_record(ines: Chat, ana: Chat) -> None:
    sent = ana.say("tell Ines I sleep 5 hours, the baby cries all night, I take 3 coffees")
    assert "I take 3 coffees" in told(sent, "Ines")
    assert "weigh_in" not in sent.kinds


def test_a_comment_under_a_meal_goes_to_its_client(ines: Chat, ana: Chat) -> None:
    ana.say("for dinner 150 g cooked lentils")
    sent = ines.say("comment under Ana's dinner: solid plate, next time add a carb, like 4 oz rice")
    assert "add a carb" in told(sent, "Ana")
    assert "weigh_in_open" not in sent.kinds
