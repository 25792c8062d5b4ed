"""Drives LibreOffice through its own interface: installs the menu, opens workbooks, calls its entries. Run by a Python that has `uno`.

Arguments: port, extension, then for each call a workbook, an entry and its further argument ("-" = none). Prints one JSON line a call.
"""

from __future__ import annotations

import json
import sys
import time

import uno  # comes with LibreOffice
import unohelper
from com.sun.star.task import XInteractionHandler
from com.sun.star.ucb import XCommandEnvironment


class Agreeing(unohelper.Base, XCommandEnvironment, XInteractionHandler):
    """Says yes to whatever the installation of an extension asks."""

    def getInteractionHandler(self):
        return self

    def getProgressHandler(self):
        return None

    def handle(self, request):
        for choice in request.getContinuations():
            if hasattr(choice, "select"):
                choice.select()
                return


def connected(port: str):
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(240):
        try:
            return resolver.resolve(f"uno:socket,host=localhost,port={port};urp;StarOffice.ComponentContext")
        except Exception:
            time.sleep(0.5)
    sys.exit("LibreOffice does not answer")


def main(port: str, extension: str, *calls: str) -> None:
    context = connected(port)
    services = context.ServiceManager
    manager = context.getValueByName("/singletons/com.sun.star.deployment.ExtensionManager")
    manager.addExtension(uno.systemPathToFileUrl(extension), (), "user", None, Agreeing())
    desktop = services.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    factory = services.createInstanceWithContext("com.sun.star.script.provider.MasterScriptProviderFactory", context)
    provider = factory.createScriptProvider("")
    for at in range(0, len(calls), 3):
        workbook, entry, more = calls[at : at + 3]
        document = desktop.loadComponentFromURL(uno.systemPathToFileUrl(workbook), "_blank", 0, ())
        script = provider.getScript(f"vnd.sun.star.script:TankHeaters.Menu.{entry}?language=Basic&location=application")
        answer = script.invoke(("quiet", *([] if more == "-" else [more])), (), ())[0]
        opened = []
        components = desktop.Components.createEnumeration()
        while components.hasMoreElements():
            one = components.nextElement()
            if one.getURL() and one.getURL() != document.getURL():
                sheet = one.getSheets().getByIndex(0)
                opened.append([uno.fileUrlToSystemPath(one.getURL()), sheet.getName()])
                one.close(True)
        print(json.dumps({"entry": entry, "answer": answer, "opened": opened, "touched": document.isModified()}), flush=True)
        document.close(True)
    desktop.terminate()


if __name__ == "__main__":
    main(*sys.argv[1:])
