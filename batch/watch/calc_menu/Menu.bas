REM The menu of the spreadsheet program: each entry writes what is asked into a file, has the program do it, and opens what it wrote.
REM The workbook in hand is sized as it stands, saved or not: a copy goes into a folder of its own, the file itself is not touched.
Option Explicit

Const PYTHON = "@PYTHON@"
Const QUIET = "quiet"

Function SizeThisWorkbook(Optional how)
  SizeThisWorkbook = Asked("size", "", Spoken(how))
End Function

Function CheckThisWorkbook(Optional how)
  CheckThisWorkbook = Asked("check", "", Spoken(how))
End Function

Function FillThisList(Optional how)
  FillThisList = Asked("fill", "", Spoken(how))
End Function

Function CompareThisWorkbook(Optional how, Optional earlier)
  Dim path As String
  If IsMissing(earlier) Then
    path = PickedFile()
    If path = "" Then
      CompareThisWorkbook = ""
      Exit Function
    End If
  Else
    path = earlier
  End If
  CompareThisWorkbook = Asked("compare", path, Spoken(how))
End Function

REM Whether answers come in dialogs: not where a program asks.
Function Spoken(Optional how) As Boolean
  Spoken = True
  If Not IsMissing(how) Then
    If VarType(how) = 8 Then Spoken = (how <> QUIET)
  End If
End Function

Function Asked(what As String, earlier As String, aloud As Boolean) As String
  Dim document, folder As String, copy As String, answer As String, opened As String, said
  On Error GoTo Failed
  document = StarDesktop.CurrentComponent
  If IsNull(document) Then
    Asked = Told("Open a workbook first.", aloud)
    Exit Function
  End If
  If Not document.supportsService("com.sun.star.sheet.SpreadsheetDocument") Then
    Asked = Told("This is no spreadsheet: open a workbook first.", aloud)
    Exit Function
  End If
  If document.getURL() = "" Then
    Asked = Told("Save the workbook once, so that the results have a place beside it.", aloud)
    Exit Function
  End If
  folder = OwnFolder()
  copy = CopyOf(document, folder)
  WriteText(folder & "/request.txt", what & Chr(10) & ConvertFromURL(copy) & Chr(10) & ConvertFromURL(document.getURL()) & Chr(10) & earlier & Chr(10))
  Shell(PYTHON, 0, "-m batch.watch.menu_call """ & ConvertFromURL(folder & "/request.txt") & """", True)
  said = Split(ReadText(folder & "/answer.txt"), Chr(10))
  If UBound(said) < 1 Then
    Asked = Told("The program gave no answer: is it still installed at " & PYTHON & "? Then write the menu again.", aloud)
    Exit Function
  End If
  opened = said(1)
  answer = said(0)
  If opened <> "" Then StarDesktop.loadComponentFromURL(ConvertToURL(opened), "_blank", 0, Array())
  If what <> "check" Then createUnoService("com.sun.star.ucb.SimpleFileAccess").kill(folder)
  If opened = "" Or what <> "check" Then
    Asked = Told(answer, aloud)
  Else
    Asked = answer
  End If
  Exit Function
Failed:
  Asked = Told("It could not be done: " & Error$, aloud)
End Function

Function Told(words As String, aloud As Boolean) As String
  If aloud Then MsgBox(words, 64, "Tank heaters")
  Told = words
End Function

Function PickedFile() As String
  Dim picker, files
  picker = createUnoService("com.sun.star.ui.dialogs.FilePicker")
  picker.setTitle("The earlier revision: a job workbook or its results")
  If picker.execute() = 1 Then
    files = picker.getFiles()
    PickedFile = ConvertFromURL(files(0))
  Else
    PickedFile = ""
  End If
End Function

REM A new, empty folder for this one question.
Function OwnFolder() As String
  Dim fileAccess, settings, number As Long, url As String
  fileAccess = createUnoService("com.sun.star.ucb.SimpleFileAccess")
  settings = createUnoService("com.sun.star.util.PathSettings")
  Randomize
  Do
    number = number + 1
    url = settings.Temp & "/tank-heaters-" & CStr(CLng(Rnd() * 1000000000)) & "-" & CStr(number)
  Loop While fileAccess.exists(url)
  fileAccess.createFolder(url)
  OwnFolder = url
End Function

REM The workbook as it stands, under its own name and in its own format; the document keeps its place and its state.
Function CopyOf(document, folder As String) As String
  Dim parts, url As String, i As Integer, given, arguments(0) As New com.sun.star.beans.PropertyValue
  parts = Split(document.getURL(), "/")
  url = folder & "/" & parts(UBound(parts))
  arguments(0).Name = "FilterName"
  given = document.getArgs()
  For i = 0 To UBound(given)
    If given(i).Name = "FilterName" Then arguments(0).Value = given(i).Value
  Next
  document.storeToURL(url, arguments())
  CopyOf = url
End Function

Sub WriteText(url As String, words As String)
  Dim fileAccess, stream
  fileAccess = createUnoService("com.sun.star.ucb.SimpleFileAccess")
  stream = createUnoService("com.sun.star.io.TextOutputStream")
  stream.setOutputStream(fileAccess.openFileWrite(url))
  stream.setEncoding("UTF-8")
  stream.writeString(words)
  stream.closeOutput()
End Sub

Function ReadText(url As String) As String
  Dim fileAccess, reader, words As String
  fileAccess = createUnoService("com.sun.star.ucb.SimpleFileAccess")
  If Not fileAccess.exists(url) Then Exit Function
  reader = createUnoService("com.sun.star.io.TextInputStream")
  reader.setInputStream(fileAccess.openFileRead(url))
  reader.setEncoding("UTF-8")
  Do While Not reader.isEOF()
    words = words & reader.readLine() & Chr(10)
  Loop
  reader.closeInput()
  ReadText = words
End Function
