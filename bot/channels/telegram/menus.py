"""The commands that Telegram shows in its menu, for private chats and for groups, in some languages."""

from __future__ import annotations

import logging

from telegram import BotCommand, BotCommandScopeAllGroupChats, BotCommandScopeAllPrivateChats
from telegram.error import TelegramError

from bot.channels.telegram.client import Client

logger = logging.getLogger(__name__)

# Written for people whose Telegram speaks the language; the bot itself speaks English.
PRIVATE: dict[str, dict[str, str]] = {
    "": {
        "today": "What I have eaten today, and what is left",
        "week": "The last seven days",
        "batches": "What is cooked and still there",
        "tares": "Weights of pots and bowls",
        "kitchen": "Whom I share batches with",
        "foods": "The foods I can name",
        "target": "What I aim at for a day",
        "undo": "Take back the last message",
        "reminders": "When to remind me",
        "coach": "Invite clients, and see how they stand",
        "settings": "Region and time zone",
        "export": "All my records as a file",
        "privacy": "What is kept, and how to erase it",
        "help": "How to say things",
    },
    "de": {
        "today": "Heute gegessen, und was noch bleibt",
        "week": "Die letzten sieben Tage",
        "batches": "Gekochtes, das noch da ist",
        "tares": "Gewichte von Töpfen und Schüsseln",
        "kitchen": "Mit wem ich Gekochtes teile",
        "foods": "Lebensmittel, die ich nennen kann",
        "target": "Mein Tagesziel",
        "undo": "Die letzte Nachricht zurücknehmen",
        "reminders": "Wann ich erinnert werde",
        "coach": "Klienten einladen, und wie es ihnen geht",
        "settings": "Region und Zeitzone",
        "export": "Alle meine Einträge als Datei",
        "privacy": "Was gespeichert wird, und wie man es löscht",
        "help": "Wie man es sagt",
    },
    "es": {
        "today": "Lo comido hoy y lo que queda",
        "week": "Los últimos siete días",
        "batches": "Lo cocinado que aún queda",
        "tares": "Pesos de ollas y cuencos",
        "kitchen": "Con quién comparto lo cocinado",
        "foods": "Los alimentos que puedo nombrar",
        "target": "Mi objetivo diario",
        "undo": "Deshacer el último mensaje",
        "reminders": "Cuándo recordarme",
        "coach": "Invitar a clientes y ver cómo van",
        "settings": "Región y zona horaria",
        "export": "Todos mis registros en un archivo",
        "privacy": "Qué se guarda y cómo borrarlo",
        "help": "Cómo decir las cosas",
    },
}

SHARED: dict[str, dict[str, str]] = {
    "": {
        "batches": "What is cooked and still there",
        "tares": "Weights of pots and bowls",
        "kitchen": "What this group is to my kitchen",
        "help": "How to say things",
    },
    "de": {
        "batches": "Gekochtes, das noch da ist",
        "tares": "Gewichte von Töpfen und Schüsseln",
        "kitchen": "Was diese Gruppe für meine Küche ist",
        "help": "Wie man es sagt",
    },
    "es": {
        "batches": "Lo cocinado que aún queda",
        "tares": "Pesos de ollas y cuencos",
        "kitchen": "Qué es este grupo para mi cocina",
        "help": "Cómo decir las cosas",
    },
}


async def publish(client: Client) -> None:
    """Publishes the lists. A failure is logged, and the bot runs without them."""
    scopes = ((BotCommandScopeAllPrivateChats(), PRIVATE), (BotCommandScopeAllGroupChats(), SHARED))
    try:
        for scope, lists in scopes:
            for language, commands in lists.items():
                wanted = [BotCommand(name, description) for name, description in commands.items()]
                await client.set_my_commands(wanted, scope=scope, language_code=language or None)
    except TelegramError as error:
        logger.warning("the lists of commands could not be published: %s", type(error).__name__)
