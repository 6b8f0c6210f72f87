using ShopFloor.Domain.Recipes;

namespace ShopFloor.Domain.Pieces;

/// <summary>What each event does to a piece. Total over the events: an unknown one is a bug.</summary>
internal static class PieceChanges
{
    internal static void Apply(Piece piece, PieceEvent happened)
    {
        switch (happened)
        {
            case PieceBooked booked:
                piece.Begin(booked);
                piece.Become(PieceState.Booked);
                break;
            case PieceReceived:
                piece.Become(PieceState.Received);
                break;
            case StepStarted started:
                Start(piece, started);
                break;
            case StepFinished finished:
                Finish(piece, finished);
                break;
            case StepSkipped skipped:
                Skip(piece, skipped);
                break;
            case StepBrokenOff broken:
                Item(piece, broken.Step).Reopen();
                break;
            case PictureBound bound:
                piece.BindTo(bound.Picture, bound.Text);
                break;
            case PieceHeld held:
                piece.BecomeHeld(held.Reason);
                break;
            case PieceReleased:
                piece.BecomeReleased();
                break;
            case ReworkBegun rework:
                Rework(piece, rework);
                break;
            case PieceSpoiled spoiled:
                End(piece, PieceState.Spoiled, (spoiled.Reason, spoiled.At));
                break;
            case PieceReturned returned:
                End(piece, PieceState.Returned, (returned.Reason, returned.At));
                break;
            case PieceCalledOff off:
                End(piece, PieceState.GoingBack, (off.Reason, off.At));
                break;
            case PieceHandedOver:
                piece.Become(PieceState.HandedOver);
                break;
            case FaultFound or PieceInspected or TestJudged or MovesUndone:
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(happened), happened, "Unknown event.");
        }
        MarkReady(piece);
    }

    private static void Start(Piece piece, StepStarted started)
    {
        EndRest(piece, started.Step, started.At);
        var item = Item(piece, started.Step);
        (item.State, item.StartedAt) = (WorkState.Running, started.At);
        (item.Batch, item.Station, item.Can, item.Decision) = (started.Batch, started.Station, started.Can, started.Decision);
        if (piece.State is PieceState.Received)
            piece.Become(PieceState.InWork);
    }

    private static void Finish(Piece piece, StepFinished finished)
    {
        var item = Item(piece, finished.Step);
        (item.State, item.FinishedAt, item.Measured) = (WorkState.Done, finished.At, finished.Measured);
        item.Decision = finished.Decision ?? item.Decision;
        BeginRest(piece, finished.Step, finished.At);
        if (item.Kind == StepKind.Inspect && piece.State != PieceState.Held)
            piece.Become(PieceState.CheckedGood);
    }

    private static void Skip(Piece piece, StepSkipped skipped)
    {
        EndRest(piece, skipped.Step, skipped.At);
        var item = Item(piece, skipped.Step);
        (item.State, item.FinishedAt, item.Decision) = (WorkState.Skipped, skipped.At, skipped.Reason);
        BeginRest(piece, skipped.Step, skipped.At);
        if (piece.State is PieceState.Received)
            piece.Become(PieceState.InWork);
        if (item.Kind == StepKind.Inspect)
            piece.Become(PieceState.CheckedGood);
    }

    private static void Rework(Piece piece, ReworkBegun rework)
    {
        foreach (var item in piece.Items.Where(i => i.Number >= rework.FromStep))
            item.Reopen();
        if (piece.Items.Any(i => i.Kind == StepKind.Tape && i.Number >= rework.FromStep))
            piece.Unbind();
        piece.CountRework();
        piece.Become(PieceState.Reworking, rework.Reason);
    }

    // What ran ends with the piece: a load or a session does not wait for what is lost or gone.
    private static void End(Piece piece, PieceState state, (string Reason, DateTimeOffset At) why)
    {
        foreach (var item in piece.Items.Where(i => i.State == WorkState.Running))
            (item.State, item.FinishedAt) = (WorkState.Failed, why.At);
        piece.Become(state, why.Reason);
    }

    private static void BeginRest(Piece piece, int after, DateTimeOffset at)
    {
        if (piece.Items.FirstOrDefault(i => i.Number == after + 1) is { State: not WorkState.Done } rest && rest.Kind.IsRest())
            (rest.State, rest.StartedAt) = (WorkState.Running, at);
    }

    private static void EndRest(Piece piece, int before, DateTimeOffset at)
    {
        if (piece.Items.FirstOrDefault(i => i.Number == before - 1) is { State: WorkState.Running } rest && rest.Kind.IsRest())
            (rest.State, rest.FinishedAt) = (WorkState.Done, at);
    }

    private static void MarkReady(Piece piece)
    {
        var next = piece.State.IsUp() ? piece.Current : null;
        foreach (var item in piece.Items)
            if (item.State is WorkState.Waiting or WorkState.Ready)
                item.State = ReferenceEquals(item, next) ? WorkState.Ready : WorkState.Waiting;
    }

    private static WorkItem Item(Piece piece, int number) => piece.Items.First(i => i.Number == number);
}
